#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/order_text.h"
#include "command_line/progress_bar.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "text/atomic_file.h"
#include "units/quantity_text.h"
#include "weld/read_plan.h"
#include "weld/save_plan.h"
#include "weld/starting_plan.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <thread>

namespace holdtrue::command_line {
namespace {

struct Choices {
    std::filesystem::path exercise;
    std::optional<std::filesystem::path> plan, json, save;
    order::StudyOptions study;
};

std::string stage_text(const order::StudyProgress& progress) {
    using Stage = order::StudyProgress::Stage;
    const std::string count = std::to_string(progress.now.tries) + " of " + std::to_string(progress.of);
    switch (progress.stage) {
    case Stage::sample:
        return "random orders: " + count;
    case Stage::search:
        return "search: " + count + ", best so far " + units::number_text(progress.now.best_cost, 2);
    case Stage::simplest:
        return "orders easy to remember: " + count;
    case Stage::changes:
        return "single changes: " + count;
    case Stage::full:
        return "full simulation: " + count;
    case Stage::scatter:
        return "with scatter: " + count;
    }
    return {};
}

int order_command(const Choices& choices) {
    const grading::Exercise exercise = choices.plan
                                           ? grading::read_exercise_for(choices.exercise, weld::read_heading(*choices.plan))
                                           : grading::read_exercise(choices.exercise);
    const weld::Plan plan = choices.plan ? grading::read_plan_for(exercise, *choices.plan)
                                         : weld::starting_plan(*exercise.part, *exercise.shop);
    const int threads = choices.study.search.threads;

    const InterruptWatch watch;
    weld::Options full;
    full.condensed = weld::condense(*exercise.part, full.element_scale, watch.token());
    if (!full.condensed)
        return exit_interrupted;
    const weld::Rehearsal rehearsal(exercise.part, exercise.shop, plan, full.condensed, threads, full, watch.token());
    if (!rehearsal.ok()) {
        std::fprintf(stderr, "stopped before the first order; nothing was written\n");
        return exit_interrupted;
    }
    order::StudyProgress progress;
    order::Study study;
    {
        const ProgressBar bar([&] { return static_cast<double>(progress.now.tries) / progress.of; },
                              [&] { return stage_text(progress); });
        study = order::study_orders(exercise, plan, rehearsal, full, choices.study, &progress, watch.token());
    }
    std::printf("%s", study_text(exercise, plan, study).c_str());
    if (choices.json)
        text::write_atomically(*choices.json, study_json(exercise, plan, study));
    if (choices.save && !study.finalists.empty()) {
        weld::Plan best = order::OrderSpace(exercise.part, plan).plan(study.finalists.front().rehearsed.order);
        best.title = "Found by the search over orders";
        best.trainee.clear();
        best.exercise = std::filesystem::relative(std::filesystem::absolute(choices.exercise),
                                                  std::filesystem::absolute(*choices.save).parent_path())
                            .string();
        weld::save_plan(best, *exercise.part, *choices.save);
        std::printf("\nSaved as %s\n", choices.save->string().c_str());
    }
    return watch.interrupted() ? exit_interrupted : 0;
}

} // namespace

void add_order(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "order", "Searches the orders of an exercise, and shows where a plan stands among them and what would help it");
    command->footer(
        "Examples:\n"
        "  holdtrue order lift_arm.exercise.toml --plan my.plan.toml\n"
        "  holdtrue order lift_arm.exercise.toml --plan my.plan.toml --tries 10000 --save better.plan.toml\n"
        "Ctrl-C ends the search and keeps the best so far.");
    auto choices = std::make_shared<Choices>();
    order::SearchOptions& search = choices->study.search;
    search.tries = 2000;
    search.threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
    command->add_option("EXERCISE", choices->exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("--plan", choices->plan,
                        "a plan: its cards weld, and it is where the search starts "
                        "(default: a starting plan of the program)");
    command->add_option("--tries", search.tries, "orders to try in the search")->check(CLI::Range(1, 100000000));
    command->add_option("--seconds", search.seconds, "end each search after this time; 0: when the tries are used up")
        ->check(CLI::Range(0.0, 1e6));
    command->add_option("--threads", search.threads, "how many at once; the result does not depend on it")
        ->check(CLI::Range(1, 1024));
    command->add_option("--seed", search.seed, "of all random numbers");
    static const std::map<std::string, order::Method> methods{
        {"annealing", order::Method::annealing},
        {"large_neighbourhood", order::Method::large_neighbourhood},
        {"beam", order::Method::beam}};
    command->add_option("--method", search.method, "annealing, large_neighbourhood or beam")
        ->transform(CLI::CheckedTransformer(methods));
    command->add_option("--random", choices->study.sample, "random orders that the plan is compared with")
        ->check(CLI::Range(1, 1000000));
    command->add_option("--changes", choices->study.changes, "single changes of the plan to try")
        ->check(CLI::Range(1, 1000000));
    command->add_option("--trials", choices->study.trials, "jobs with scatter for each order at the end")
        ->check(CLI::Range(1, 100000));
    command->add_option("--json", choices->json, "save everything, for programs");
    command->add_option("--save", choices->save, "save the order at the top as a plan");
    command->callback([choices, &exit_code] { exit_code = order_command(*choices); });
}

} // namespace holdtrue::command_line
