#include "command_line/check_output.h"
#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/named_choice.h"
#include "command_line/order_text.h"
#include "command_line/progress_bar.h"
#include "command_line/shipped_file.h"
#include "distortion/condensed_store.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "parallel/agree.h"
#include "parallel/world.h"
#include "text/atomic_file.h"
#include "text/words.h"
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

namespace holdtrue::command_line {
namespace {

struct OrderChoices {
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
    case Stage::limits:
        return "orders nearest to the limits: " + count;
    case Stage::changes:
        return "single changes: " + count;
    case Stage::full:
        return "full simulation: " + count;
    case Stage::scatter:
        return "with scatter: " + count;
    }
    return {};
}

weld::Plan read_plan(const std::filesystem::path& file, const grading::Exercise& exercise) {
    weld::Plan plan = grading::read_plan_for(exercise, file);
    if (std::ranges::none_of(plan.moves,
                             [](const weld::Move& move) { return std::holds_alternative<weld::WeldPass>(move.what); }))
        throw text::InputError(
            file.string(), 0, text::in_english("welds no pass, so there is nothing to put in order"),
            text::in_english("name a plan that welds the passes, in any order, or leave --plan out"));
    return plan;
}

std::string proposed_text(const weld::Plan& plan, const std::vector<std::string>& unmet) {
    std::string text = "Cards by the rule book, looked for joint by joint:\n" + cards_text(plan);
    if (!unmet.empty())
        text += "No setting meets every rule for " + text::listed(unmet) +
                ": a middling card is used there; holdtrue setup says which rules\nare in conflict.\n";
    return text + '\n';
}

int order_command(const OrderChoices& choices) {
    const InterruptWatch watch;
    const std::unique_ptr<parallel::Communicator> world = parallel::world();
    const grading::Exercise exercise = parallel::agreed(*world, [&] {
        for (const auto& file : {choices.json, choices.save})
            if (file && world->leads())
                check_output(*file);
        return choices.plan ? grading::read_exercise_for(choices.exercise, weld::read_heading(*choices.plan))
                            : grading::read_exercise(choices.exercise);
    });
    const auto propose = [&] { return weld::proposed_plan(*exercise.part, *exercise.shop, *exercise.rules); };
    std::optional<weld::ProposedPlan> proposed;
    const weld::Plan plan = parallel::agreed(*world, [&] {
        if (choices.plan)
            return read_plan(*choices.plan, exercise);
        proposed = propose(); // nobody has set the part up yet
        return proposed->plan;
    });
    parallel::check_same(*world, choices.plan.value_or(choices.exercise).string(),
                         weld::plan_toml(plan, *exercise.part));
    order::StudyOptions options = choices.study;
    options.search.communicator = world.get();
    if (options.search.threads == 0)
        options.search.threads = world->cores();

    weld::Options full;
    const auto condense = [&](std::optional<int> groups_per_pass) {
        return weld::condense(*exercise.part, full.element_scale, watch.token(), distortion::usual_store(),
                              groups_per_pass);
    };
    full.condensed = condense({});
    std::optional<weld::Rehearsal> rehearsal;
    const auto quick = condense(weld::rehearsal_groups_per_pass);
    if (quick && full.condensed)
        rehearsal.emplace(exercise.part, exercise.shop, plan, quick, options.search.threads, full, watch.token());
    if (parallel::any(*world, !rehearsal || !rehearsal->ok())) {
        if (world->leads())
            std::fprintf(stderr, "stopped before the first order; nothing was written\n");
        return exit_interrupted;
    }
    order::StudyProgress progress;
    order::Study study;
    std::optional<ProposedReach> proposed_reach;
    {
        std::optional<ProgressBar> bar;
        if (world->leads())
            bar.emplace([&] { return static_cast<double>(progress.now.tries) / progress.of; },
                        [&] { return stage_text(progress); });
        study = order::study_orders(exercise, plan, *rehearsal, full, options, &progress, watch.token());
        if (choices.plan && study.out_of_reach) {
            const weld::Plan by_rules = propose().plan;
            const order::OrderSpace space(exercise.part, by_rules);
            const weld::Rehearsal with_proposed(exercise.part, exercise.shop, by_rules, quick, options.search.threads,
                                                full, watch.token());
            order::SearchOptions search = options.search;
            search.starts = {space.order_of(by_rules)};
            if (!parallel::any(*world, !with_proposed.ok())) {
                const order::SearchResult nearest =
                    order::nearest_to_limits(exercise, space, with_proposed, search, &progress, watch.token());
                if (!nearest.leaders.empty())
                    proposed_reach = ProposedReach{nearest.leaders.front().cost};
            }
        }
    }
    const int exit_code = parallel::any(*world, watch.interrupted()) ? exit_interrupted : 0;
    if (!world->leads())
        return exit_code;
    if (proposed)
        std::printf("%s", proposed_text(plan, proposed->unmet).c_str());
    std::printf("%s", study_text(exercise, plan, study, proposed_reach).c_str());
    if (choices.json)
        text::write_atomically(*choices.json, study_json(exercise, plan, study, proposed_reach));
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
    return exit_code;
}

} // namespace

void add_order(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "order", "Searches the orders of an exercise, and shows where a plan stands among them and what would help it");
    command->footer(
        "Examples:\n"
        "  holdtrue order lift_arm.exercise.toml --plan my.plan.toml\n"
        "  holdtrue order lift_arm.exercise.toml --plan my.plan.toml --tries 10000 --save better.plan.toml\n"
        "  mpirun -n 4 holdtrue order lift_arm.exercise.toml --tries 50000 --chains 64     (built with MPI)\n"
        "Exit code: 0 done, 2 something is wrong with the input, 130 stopped by Ctrl-C, with the best so far kept.");
    auto choices = std::make_shared<OrderChoices>();
    order::SearchOptions& search = choices->study.search;
    search.tries = 2000;
    search.threads = 0; // one per core
    add_file(*command, "EXERCISE", choices->exercise, FileKind::exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("--plan", choices->plan,
                        "a plan: its cards weld, and it is where the search starts "
                        "(default: the settings that the rule book proposes)");
    command->add_option("--tries", search.tries, "orders to try in the search")->check(CLI::Range(1, 100000000));
    command->add_option("--seconds", search.seconds, "end each search after this time; 0: when the tries are used up")
        ->check(CLI::Range(0.0, 1e6));
    command
        ->add_option("--threads", search.threads,
                     "how many at once, by default one per core; the result does not depend on it")
        ->check(CLI::Range(1, 1024));
    command->add_option("--seed", search.seed, "of all random numbers");
    command
        ->add_option("--chains", search.chains,
                     "independent searches that share the tries, and as many can run at once; the result depends on it")
        ->check(CLI::Range(1, 100000));
    const std::map<std::string, order::Method> methods{{"annealing", order::Method::annealing},
                                                       {"large_neighbourhood", order::Method::large_neighbourhood},
                                                       {"beam", order::Method::beam}};
    add_named_choice(*command, "--method", search.method, methods, "annealing, large_neighbourhood or beam");
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
