// How fast orders of the lift arm are tried: what is prepared once, then a whole order rehearsed (random ones, which
// have no beginning in common, and neighbours as a search meets them, which go on from what the last ones had in
// common) and the same order in the full simulation. Rates are orders per second of one thread; order_search gives
// those of a whole search on one and two threads.
#include "grading/read_exercise.h"
#include "order/changes.h"
#include "order/exercise_problem.h"
#include "weld/read_plan.h"

#include <benchmark/benchmark.h>

#include <filesystem>
#include <optional>

using namespace holdtrue;
using namespace holdtrue::order;

namespace {

const std::filesystem::path folder = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises";

struct Arm {
    grading::Exercise exercise = grading::read_exercise(folder / "lift_arm.exercise.toml");
    weld::Plan plan = weld::read_plan(folder / "lift_arm.model.plan.toml", *exercise.part, *exercise.shop);
    OrderSpace space{exercise.part, plan};
};

// What all orders share.
struct Prepared : Arm {
    weld::Options options;
    std::shared_ptr<const distortion::CondensedPart> quick;
    std::optional<weld::Rehearsal> rehearsal;
    Problem problem;
    Prepared() {
        options.condensed = weld::condense(*exercise.part);
        quick = weld::condense(*exercise.part, 1, {}, {}, weld::rehearsal_groups_per_pass);
        rehearsal.emplace(exercise.part, exercise.shop, plan, quick, 2, options);
        problem = exercise_problem(exercise, space, *rehearsal);
        // First orders fill the law's tables, which would be counted as theirs.
        const auto evaluator = problem.make_evaluator();
        Random random(2);
        for (int k = 0; k < 20; ++k)
            evaluator->evaluate(space.random(random));
    }
};
const Prepared& prepared() {
    static const Prepared made;
    return made;
}

void count_orders(benchmark::State& state, double orders) {
    state.counters["orders_per_s"] = benchmark::Counter(orders, benchmark::Counter::kIsRate);
}

void prepare_condensed_part(benchmark::State& state) {
    const Arm arm;
    for (auto _ : state)
        benchmark::DoNotOptimize(weld::condense(*arm.exercise.part));
}
BENCHMARK(prepare_condensed_part)->Unit(benchmark::kMillisecond)->Iterations(1)->UseRealTime();

void prepare_heat_table(benchmark::State& state) {
    const Prepared& arm = prepared();
    for (auto _ : state)
        benchmark::DoNotOptimize(weld::Rehearsal(arm.exercise.part, arm.exercise.shop, arm.plan, arm.quick,
                                                 static_cast<int>(state.range(0)), arm.options)
                                     .ok());
}
BENCHMARK(prepare_heat_table)
    ->ArgName("threads")
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime();

void order_random(benchmark::State& state) {
    const Prepared& arm = prepared();
    const auto evaluator = arm.problem.make_evaluator();
    Random random(1);
    for (auto _ : state)
        benchmark::DoNotOptimize(evaluator->evaluate(arm.space.random(random)));
    count_orders(state, static_cast<double>(state.iterations()));
}
BENCHMARK(order_random)->Unit(benchmark::kMillisecond);

// Each differs from the plan by one small change.
void order_changed(benchmark::State& state) {
    const Prepared& arm = prepared();
    const auto evaluator = arm.problem.make_evaluator();
    Random random(1);
    const Order plan = arm.space.order_of(arm.plan);
    for (auto _ : state) {
        Order order = plan;
        change(order, arm.space, random);
        benchmark::DoNotOptimize(evaluator->evaluate(order));
    }
    count_orders(state, static_cast<double>(state.iterations()));
}
BENCHMARK(order_changed)->Unit(benchmark::kMillisecond);

void order_full_simulation(benchmark::State& state) {
    const Prepared& arm = prepared();
    Random random(1);
    for (auto _ : state)
        benchmark::DoNotOptimize(weld::simulate(arm.exercise.part, arm.exercise.shop,
                                                arm.space.plan(arm.space.random(random)), arm.options));
    count_orders(state, static_cast<double>(state.iterations()));
}
BENCHMARK(order_full_simulation)->Unit(benchmark::kMillisecond)->Iterations(2)->UseRealTime();

void order_search(benchmark::State& state) {
    const Prepared& arm = prepared();
    SearchOptions options;
    options.tries = 400;
    options.threads = static_cast<int>(state.range(0));
    for (auto _ : state)
        benchmark::DoNotOptimize(search(arm.problem, options).tries);
    count_orders(state, options.tries * static_cast<double>(state.iterations()));
}
BENCHMARK(order_search)
    ->ArgName("threads")
    ->Arg(1)
    ->Arg(2)
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime();

} // namespace

BENCHMARK_MAIN();
