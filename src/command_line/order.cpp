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
#include "order/card_search.h"
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
    case Stage::cards:
        return "setting cards: " + count;
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

// What was put in order, and what came of it.
struct Studied {
    weld::Plan plan;
    std::optional<order::CardChoice> chosen; // without --plan
    order::Study study;
};

std::string chosen_text(const weld::Plan& plan, const order::CardChoice& chosen) {
    std::string text = "Cards by the rule book, looked for joint by joint:\n" + cards_text(plan);
    if (chosen.tried > 0)
        text += "With the middle of what the rules allow no order found brings the worst gauge below " +
                units::number_text(100 * chosen.nearest_as_proposed, 0) + " % of its limit.\nOf " +
                std::to_string(chosen.tried) +
                " settings that they allow, simulated, these do best: " + units::number_text(100 * chosen.nearest, 0) +
                " %.\n";
    if (!chosen.unmet.empty())
        text += "No setting meets every rule for " + text::listed(chosen.unmet) +
                ": a middling card is used there; holdtrue setup says which rules\nare in conflict.\n";
    return text + '\n';
}

// What all studies of one command share.
class Studies {
public:
    Studies(const grading::Exercise& exercise, const order::StudyOptions& options, parallel::Communicator& world,
            const InterruptWatch& watch, std::string file)
        : exercise_(exercise), options_(options), world_(world), watch_(watch), file_(std::move(file)) {
        full_.condensed = condense({});
        quick_ = condense(weld::rehearsal_groups_per_pass);
    }

    // Nothing where it was stopped before the first order.
    std::optional<Studied> study(const weld::Plan& plan) {
        const std::unique_ptr<weld::Rehearsal> rehearsal = rehearse(plan);
        if (!rehearsal)
            return {};
        return Studied{plan, {}, study(plan, *rehearsal)};
    }

    // Nobody has set the part up yet: cards by the rule book.
    std::optional<Studied> study_proposed() {
        std::optional<order::CardChoice> chosen = choose_cards();
        if (!chosen)
            return {};
        order::Study study = this->study(chosen->plan, *chosen->rehearsal);
        return Studied{chosen->plan, std::move(chosen), std::move(study)};
    }

    // How near to the limits orders come with cards by the rule book.
    std::optional<ProposedReach> reach_of_proposed() {
        const std::optional<order::CardChoice> chosen = choose_cards();
        return chosen ? std::optional(ProposedReach{chosen->nearest}) : std::nullopt;
    }

    order::StudyProgress progress;

private:
    std::shared_ptr<const distortion::CondensedPart> condense(std::optional<int> groups_per_pass) const {
        return weld::condense(*exercise_.part, full_.element_scale, watch_.token(), distortion::usual_store(),
                              groups_per_pass);
    }

    std::unique_ptr<weld::Rehearsal> rehearse(const weld::Plan& plan) const {
        parallel::check_same(world_, file_, weld::plan_toml(plan, *exercise_.part));
        std::unique_ptr<weld::Rehearsal> rehearsal;
        if (quick_ && full_.condensed)
            rehearsal = std::make_unique<weld::Rehearsal>(exercise_.part, exercise_.shop, plan, quick_,
                                                          options_.search.threads, full_, watch_.token());
        if (parallel::any(world_, !rehearsal || !rehearsal->ok()))
            rehearsal.reset();
        return rehearsal;
    }

    order::Study study(const weld::Plan& plan, const weld::Rehearsal& rehearsal) {
        return order::study_orders(exercise_, plan, rehearsal, full_, options_, &progress, watch_.token());
    }

    std::optional<order::CardChoice> choose_cards() {
        const weld::ProposedPlan proposed = parallel::agreed(world_, [&] {
            return weld::proposed_plan(*exercise_.part, *exercise_.shop, *exercise_.rules, exercise_.joint_required);
        });
        const auto rehearsed = [&](const weld::Plan& plan) { return rehearse(plan); };
        return order::choose_cards(exercise_, proposed, full_, rehearsed, options_.search, &progress, watch_.token());
    }

    const grading::Exercise& exercise_;
    const order::StudyOptions& options_;
    parallel::Communicator& world_;
    const InterruptWatch& watch_;
    const std::string file_; // that the plan or the exercise was read from
    weld::Options full_;
    std::shared_ptr<const distortion::CondensedPart> quick_;
};

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
    const std::optional<weld::Plan> given = parallel::agreed(
        *world, [&] { return choices.plan ? std::optional(read_plan(*choices.plan, exercise)) : std::nullopt; });
    order::StudyOptions options = choices.study;
    options.search.communicator = world.get();
    if (options.search.threads == 0)
        options.search.threads = world->cores();

    Studies studies(exercise, options, *world, watch, choices.plan.value_or(choices.exercise).string());
    std::optional<Studied> studied;
    std::optional<ProposedReach> proposed_reach;
    {
        std::optional<ProgressBar> bar;
        if (world->leads())
            bar.emplace([&] { return static_cast<double>(studies.progress.now.tries) / studies.progress.of; },
                        [&] { return stage_text(studies.progress); });
        if (!given)
            studied = studies.study_proposed();
        else
            studied = studies.study(*given);
        if (given && studied && studied->study.out_of_reach)
            proposed_reach = studies.reach_of_proposed();
    }
    if (!studied) {
        if (world->leads())
            std::fprintf(stderr, "stopped before the first order; nothing was written\n");
        return exit_interrupted;
    }
    const weld::Plan& plan = studied->plan;
    const order::Study& study = studied->study;
    const int exit_code = parallel::any(*world, watch.interrupted()) ? exit_interrupted : 0;
    if (!world->leads())
        return exit_code;
    if (studied->chosen)
        std::printf("%s", chosen_text(plan, *studied->chosen).c_str());
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
                        "(default: settings by the rule book, with which an order keeps the limits if one is found)");
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
