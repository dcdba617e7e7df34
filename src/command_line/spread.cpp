#include "command_line/check_output.h"
#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/progress_bar.h"
#include "command_line/shipped_file.h"
#include "command_line/text_table.h"
#include "distortion/condensed_store.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "order/exercise_problem.h"
#include "part/gauge_text.h"
#include "text/atomic_file.h"
#include "weld/read_plan.h"
#include "weld/rehearsal.h"
#include "weld/starting_plan.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>

namespace holdtrue::command_line {
namespace {

struct SpreadChoices {
    std::filesystem::path exercise;
    std::optional<std::filesystem::path> plan, json;
    int orders = 200, threads = 1;
    std::uint64_t seed = 1;
};

double median(std::vector<double> values) {
    const std::size_t middle = values.size() / 2;
    std::ranges::nth_element(values, values.begin() + static_cast<std::ptrdiff_t>(middle));
    return values[middle];
}

// How far the difference of two orders moves when the model's assumptions do, both at once: the yield curve of hot
// steel, and the published rules towards their most and their least.
double difference_error(const weld::GaugeOutcome& one, const weld::GaugeOutcome& other) {
    const double used = one.value - other.value;
    const auto moved = [&](std::size_t k) { return std::abs(one.assumed[k] - other.assumed[k] - used); };
    return std::hypot(moved(0), std::max(moved(1), moved(2)));
}

// The plan that was named, or else the exercise's model plan where it lies beside it as NAME.model.plan.toml.
std::optional<std::filesystem::path> plan_file(const SpreadChoices& choices) {
    if (choices.plan)
        return choices.plan;
    std::string name = choices.exercise.filename().string();
    name = name.substr(0, name.find(".exercise.toml")) + ".model.plan.toml";
    const std::filesystem::path beside = choices.exercise.parent_path() / name;
    std::error_code none;
    return std::filesystem::exists(beside, none) ? std::optional(beside) : std::nullopt;
}

int spread(const SpreadChoices& choices) {
    if (choices.json)
        check_output(*choices.json);
    const std::optional<std::filesystem::path> file = plan_file(choices);
    const grading::Exercise exercise = file ? grading::read_exercise_for(choices.exercise, weld::read_heading(*file))
                                            : grading::read_exercise(choices.exercise);
    const weld::Plan good = file ? grading::read_plan_for(exercise, *file)
                                 : weld::middling_plan(*exercise.part, *exercise.shop, exercise.joint_required);
    const order::OrderSpace space(exercise.part, good);
    const order::Order listed = order::listed_order(space, space.order_of(good));

    const InterruptWatch watch;
    weld::Options options;
    options.condensed = weld::condense(*exercise.part, options.element_scale, watch.token(), distortion::usual_store());
    // The plan and the listed order are simulated in full, which also tells the model's own error; random orders are
    // rehearsed.
    std::vector<std::vector<double>> off; // [order][gauge]; the plan, the listed order, then random ones
    std::vector<std::shared_ptr<const weld::Outcome>> full;
    for (const weld::Plan& plan : {good, space.plan(listed)}) {
        if (watch.interrupted())
            break;
        const auto outcome = weld::simulate(exercise.part, exercise.shop, plan, options, nullptr, watch.token());
        std::vector<double>& own = off.emplace_back();
        for (const weld::GaugeOutcome& gauge : outcome->gauges)
            own.push_back(gauge.value - gauge.nominal);
        full.push_back(outcome);
    }
    if (!watch.interrupted()) {
        const weld::Rehearsal rehearsal(exercise.part, exercise.shop, good, options.condensed, choices.threads, options,
                                        watch.token());
        if (rehearsal.ok()) {
            order::SearchProgress progress;
            const ProgressBar bar(
                [&] { return static_cast<double>(progress.tries) / choices.orders; },
                [&] { return std::to_string(progress.tries) + " of " + std::to_string(choices.orders) + " orders"; });
            const order::Problem problem = order::exercise_problem(exercise, space, rehearsal);
            for (const order::Candidate& candidate :
                 order::sample(problem, choices.orders, choices.threads, choices.seed, &progress, watch.token()))
                off.push_back(candidate.finding.deviation);
        }
    }
    if (watch.interrupted()) {
        std::fprintf(stderr, "stopped; nothing was written\n");
        return exit_interrupted;
    }

    std::printf("%s\n%d random orders (seed %llu) beside '%s' and the passes as listed in the part file\n\n",
                exercise.title.c_str(), choices.orders, static_cast<unsigned long long>(choices.seed),
                good.title.c_str());
    TextTable table("lrrrrrrrrr");
    table.add({"gauge, off by", "limit", "plan", "as listed", "random: least", "median", "most", "within", "model",
               "plan - listed"});
    nlohmann::json gauges = nlohmann::json::array();
    for (std::size_t g = 0; g < exercise.part->gauges.size(); ++g) {
        const part::Gauge& gauge = exercise.part->gauges[g];
        std::vector<double> randoms;
        for (std::size_t k = 2; k < off.size(); ++k)
            randoms.push_back(off[k][g]);
        const auto within =
            std::ranges::count_if(randoms, [&](double each) { return std::abs(each) <= gauge.tolerance; });
        const double band = std::max(full[0]->gauges[g].band, full[1]->gauges[g].band);
        const double of_difference = difference_error(full[0]->gauges[g], full[1]->gauges[g]);
        const auto text = [&](double change) { return part::gauge_change_text(gauge, change); };
        table.add({gauge.title.empty() ? gauge.name : gauge.title, "±" + part::gauge_text(gauge, gauge.tolerance),
                   text(off[0][g]), text(off[1][g]), text(std::ranges::min(randoms)), text(median(randoms)),
                   text(std::ranges::max(randoms)), std::to_string(within) + "/" + std::to_string(choices.orders),
                   "±" + part::gauge_text(gauge, band), "±" + part::gauge_text(gauge, of_difference)});
        gauges.push_back({{"name", gauge.name},
                          {"tolerance", gauge.tolerance},
                          {"plan", off[0][g]},
                          {"as_listed", off[1][g]},
                          {"random", randoms},
                          {"band", band},
                          {"difference_error", of_difference}});
    }
    const auto all_within = std::count_if(off.begin() + 2, off.end(), [&](const std::vector<double>& order) {
        for (std::size_t g = 0; g < order.size(); ++g)
            if (std::abs(order[g]) > exercise.part->gauges[g].tolerance)
                return false;
        return true;
    });
    std::printf("%s\n%td of %d random orders keep every limit.\n", table.text().c_str(), all_within, choices.orders);
    std::printf("\nwithin: random orders inside the limit. model: band of the model's own error of one reading. plan - "
                "listed: the\nmodel's error of the difference between those two, which is smaller where both would be "
                "off together; orders that\ndiffer by less than that are not told apart. Random and listed orders are "
                "welded without waits: heat that "
                "adds up\ncounts too, and a plan may owe what it gains to its waits.\n");
    if (choices.json)
        text::write_atomically(*choices.json, nlohmann::json{{"exercise", exercise.title},
                                                             {"seed", choices.seed},
                                                             {"all_within", all_within},
                                                             {"gauges", gauges}}
                                                      .dump(1) +
                                                  "\n");
    return 0;
}

} // namespace

void add_spread(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "spread", "Shows how far the gauges of an exercise spread over random orders, beside a plan's");
    auto choices = std::make_shared<SpreadChoices>();
    add_file(*command, "EXERCISE", choices->exercise, FileKind::exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("PLAN", choices->plan,
                        "a plan: its cards and passes are the ones put in random orders (unless given: "
                        "EXERCISE's .model.plan.toml beside it, or else a plan of the program's own)");
    command->add_option("--orders", choices->orders, "how many random orders")->check(CLI::Range(1, 100000));
    command->add_option("--seed", choices->seed, "of the random orders");
    command->add_option("--threads", choices->threads, "how many at once")->check(CLI::Range(1, 256));
    command->add_option("--json", choices->json, "save the figures, for programs");
    command->footer("Example: holdtrue spread arm.exercise.toml arm.model.plan.toml --orders 500 --json spread.json");
    command->callback([choices, &exit_code] { exit_code = spread(*choices); });
}

} // namespace holdtrue::command_line
