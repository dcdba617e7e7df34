// What a condensed order of the lift arm costs by groups, with and without heat; sparse factors of this code and of
// CHOLMOD beside each other. Whole orders beside the full system and CalculiX: job_bench.
//
// An order is all tacks, plugs and runs as the part lists them. `without heat` leaves the temperature fields out: it is
// the algebra of ties, shrinkage and contact alone; `with heat` adds what the fields do, condensed
// beforehand.
#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "distortion/sample_parts.h"
#include "distortion/step_heat.h"
#include "part/read_part.h"

#include <Eigen/CholmodSupport>
#include <benchmark/benchmark.h>

#include <algorithm>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

const std::string arm_file = std::string(HOLDTRUE_SOURCE_DIR) + "/assets/parts/lift_arm.part.toml";

struct Bed {
    explicit Bed(int groups_per_pass)
        : part(*part::read_part(arm_file)), mesh(part::build_mesh(part)),
          condensed(part, mesh, {.groups = {.groups_per_pass = groups_per_pass}}), law(part, mesh), job(part, mesh) {
        for (const part::PassKind kind : {part::PassKind::tack, part::PassKind::plug, part::PassKind::run})
            for (std::size_t p = 0; p < part.passes.size(); ++p)
                if (part.passes[p].kind == kind)
                    job.weld(static_cast<int>(p), 180e3);
        law.prepare(job.steps());
        for (const Step& step : job.steps())
            heat.push_back(step_heat(condensed.model(), step.temperature_end_k, StripMetal(YieldCurve::effective)));
        condense_heat(condensed, heat);
    }
    void run(Response& response, bool with_heat) const {
        JobRun run(condensed.model(), response, law);
        for (std::size_t k = 0; k < job.steps().size(); ++k)
            run.play(job.steps()[k], with_heat ? &heat[k] : nullptr);
        run.finish();
        benchmark::DoNotOptimize(run.gauges());
    }
    part::Part part;
    part::Mesh mesh;
    CondensedPart condensed;
    ShrinkageLaw law;
    Job job;
    std::vector<StepHeat> heat;
};

void order_condensed(benchmark::State& state) {
    const Bed bed(static_cast<int>(state.range(0)));
    for (auto _ : state) {
        CondensedResponse response(bed.condensed);
        bed.run(response, state.range(1) != 0);
    }
    state.counters["groups"] = static_cast<double>(bed.condensed.model().groups().size());
}
BENCHMARK(order_condensed)
    ->ArgNames({"groups_per_pass", "heat"})
    ->Args({1, 0})
    ->Args({3, 0})
    ->Args({1, 1})
    ->Args({3, 1})
    ->Unit(benchmark::kMillisecond);

SparseMatrix arm_matrix() {
    const part::Part part = *part::read_part(arm_file);
    const part::Mesh mesh = part::build_mesh(part);
    return PartModel(part, mesh).held_stiffness();
}

void factor_own(benchmark::State& state) {
    const SparseMatrix k = arm_matrix();
    for (auto _ : state)
        state.counters["nonzeros"] = static_cast<double>(SparseFactor(k).nonzeros());
}
BENCHMARK(factor_own)->Unit(benchmark::kMillisecond);

void factor_cholmod(benchmark::State& state) {
    const SparseMatrix k = arm_matrix();
    for (auto _ : state) {
        Eigen::CholmodDecomposition<SparseMatrix, Eigen::Lower> factor(k);
        benchmark::DoNotOptimize(factor.info());
    }
}
BENCHMARK(factor_cholmod)->Unit(benchmark::kMillisecond);

void solve_16_own(benchmark::State& state) {
    const SparseFactor factor(arm_matrix());
    for (auto _ : state) {
        Columns columns = Columns::Ones(factor.size(), 16);
        factor.solve_in_place(columns);
    }
}
BENCHMARK(solve_16_own)->Unit(benchmark::kMillisecond);

void solve_16_cholmod(benchmark::State& state) {
    const SparseMatrix k = arm_matrix();
    const Eigen::CholmodDecomposition<SparseMatrix, Eigen::Lower> factor(k);
    const Eigen::MatrixXd columns = Eigen::MatrixXd::Ones(k.rows(), 16);
    for (auto _ : state)
        benchmark::DoNotOptimize(Eigen::MatrixXd(factor.solve(columns)));
}
BENCHMARK(solve_16_cholmod)->Unit(benchmark::kMillisecond);

} // namespace

BENCHMARK_MAIN();
