#include "command_line/commands.h"
#include "command_line/interrupt.h"
#include "command_line/progress_bar.h"
#include "command_line/text_table.h"
#include "grading/read_exercise.h"
#include "order/order_space.h"
#include "part/gauge_text.h"
#include "text/atomic_file.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <thread>

namespace holdtrue::command_line {
namespace {

struct Choices {
    std::filesystem::path exercise, plan;
    std::optional<std::filesystem::path> json;
    int orders = 20, threads = 1;
    std::uint64_t seed = 1;
};

// Passes in the order of the part file, all forwards, no waits: what comes of welding as the list says.
order::Order naive_order(const order::OrderSpace& space, const order::Order& like) {
    order::Order naive = like;
    std::ranges::sort(naive.passes, {}, &order::OrderedPass::pass);
    for (order::OrderedPass& pass : naive.passes)
        pass.reversed = false, pass.wait = 0;
    naive.free_before = space.size();
    space.repair(naive);
    return naive;
}

double median(std::vector<double> values) {
    const std::size_t middle = values.size() / 2;
    std::ranges::nth_element(values, values.begin() + static_cast<std::ptrdiff_t>(middle));
    return values[middle];
}

int spread(const Choices& choices) {
    const grading::Exercise exercise = grading::read_exercise(choices.exercise);
    const weld::Plan good = weld::read_plan(choices.plan, *exercise.part, *exercise.shop);
    const order::OrderSpace space(exercise.part, good);
    const order::Order good_order = space.order_of(good);

    std::vector<weld::Plan> plans{good, space.plan(naive_order(space, good_order))};
    order::Random random(choices.seed);
    for (int k = 0; k < choices.orders; ++k)
        plans.push_back(space.plan(space.random(random)));

    const InterruptWatch watch;
    weld::Options options;
    options.condensed = weld::condense(*exercise.part, options.element_scale, watch.token());
    std::vector<std::shared_ptr<const weld::Outcome>> outcomes(plans.size());
    std::atomic<std::size_t> next = 0, done = 0;
    {
        const ProgressBar bar([&] { return static_cast<double>(done) / static_cast<double>(plans.size()); },
                              [&] { return std::to_string(done) + " of " + std::to_string(plans.size()) + " orders"; });
        std::vector<std::jthread> workers;
        for (int t = 0; t < choices.threads; ++t)
            workers.emplace_back([&] {
                for (std::size_t k = next++; k < plans.size() && !watch.interrupted(); k = next++) {
                    outcomes[k] =
                        weld::simulate(exercise.part, exercise.shop, plans[k], options, nullptr, watch.token());
                    ++done;
                }
            });
    }
    if (watch.interrupted()) {
        std::fprintf(stderr, "stopped; nothing was written\n");
        return exit_interrupted;
    }

    std::printf("%s\n%d random orders (seed %llu) beside '%s' and the passes as listed in the part file\n\n",
                exercise.title.c_str(), choices.orders, static_cast<unsigned long long>(choices.seed),
                good.title.c_str());
    TextTable table("lrrrrrrrr");
    table.add({"gauge, off by", "limit", "plan", "as listed", "random: least", "median", "most", "within", "model"});
    nlohmann::json gauges = nlohmann::json::array();
    for (std::size_t g = 0; g < exercise.part->gauges.size(); ++g) {
        const part::Gauge& gauge = exercise.part->gauges[g];
        std::vector<double> off;
        double band = 0;
        int within = 0;
        for (std::size_t k = 0; k < outcomes.size(); ++k) {
            const weld::GaugeOutcome& reading = outcomes[k]->gauges[g];
            off.push_back(reading.value - reading.nominal);
            band = std::max(band, reading.band);
            within += k >= 2 && std::abs(off.back()) <= gauge.tolerance;
        }
        const std::vector<double> randoms(off.begin() + 2, off.end());
        const auto text = [&](double change) { return part::gauge_change_text(gauge, change); };
        table.add({gauge.title.empty() ? gauge.name : gauge.title, "±" + part::gauge_text(gauge, gauge.tolerance),
                   text(off[0]), text(off[1]), text(std::ranges::min(randoms)), text(median(randoms)),
                   text(std::ranges::max(randoms)), std::to_string(within) + "/" + std::to_string(choices.orders),
                   "±" + part::gauge_text(gauge, band)});
        gauges.push_back({{"name", gauge.name},
                          {"tolerance", gauge.tolerance},
                          {"plan", off[0]},
                          {"as_listed", off[1]},
                          {"random", randoms},
                          {"band", band}});
    }
    std::printf("%s", table.text().c_str());
    std::printf("\nwithin: random orders inside the limit. model: the largest band of the model's own error; orders "
                "that differ by\nless are not told apart.\n");
    if (choices.json)
        text::write_atomically(
            *choices.json,
            nlohmann::json{{"exercise", exercise.title}, {"seed", choices.seed}, {"gauges", gauges}}.dump(1) + "\n");
    return 0;
}

} // namespace

void add_spread(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand(
        "spread", "Shows how far the gauges of an exercise spread over random orders, beside a plan's");
    auto choices = std::make_shared<Choices>();
    command->add_option("EXERCISE", choices->exercise, "exercise file (.exercise.toml)")->required();
    command->add_option("PLAN", choices->plan, "a plan: its cards and passes are the ones put in random orders")
        ->required();
    command->add_option("--orders", choices->orders, "how many random orders")->check(CLI::Range(1, 100000));
    command->add_option("--seed", choices->seed, "of the random orders");
    command->add_option("--threads", choices->threads, "how many at once")->check(CLI::Range(1, 256));
    command->add_option("--json", choices->json, "save the figures, for programs");
    command->callback([choices, &exit_code] { exit_code = spread(*choices); });
}

} // namespace holdtrue::command_line
