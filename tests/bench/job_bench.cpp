// One complete order in three ways: the condensed model, the whole sparse system factored anew after every change of
// ties, and CalculiX (Debian package calculix-ccx; left out where it is not installed). Then cost against the number of
// passes. By hand: build/tests/bench/job_bench; ratios of the runs of one call are printed at the end.
//
// The order is the lift arm's model plan with the heat that weld::simulate finds on the same mesh, cut into groups as
// shipped; arm_rehearsed is the condensed model as a search has it, with two groups to a pass and its brief watch.
// `mesh_percent` multiplies the element size: 100 is the shipped mesh. CalculiX solves where a tie is born and in the
// end, on bricks on the same mesh; what it need not decide (shrinkage, yielding, contacts) is not counted. Times:
// processor time of one core; for CalculiX that of its own processes. Memory: the largest that this program has been so
// far in the call; a process of CalculiX, where it was larger than this program from which it starts.
#include "distortion/condensed_response.h"
#include "distortion/full_response.h"
#include "distortion/job_run.h"
#include "distortion/outcome_steps.h"
#include "distortion/sample_parts.h"
#include "distortion/step_heat.h"
#include "distortion/twin_job.h"
#include "part/gauge.h"

#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <string>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

rusage usage(int who) {
    rusage used{};
    getrusage(who, &used);
    return used;
}
double peak_mb(int who) { return static_cast<double>(usage(who).ru_maxrss) / 1024; }
double processor_s(int who) {
    const rusage used = usage(who);
    return static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

// A job ready to be played on any response of its part.
struct Bed {
    const part::Part& part;
    const std::vector<Step>& steps;
    CondensedPart condensed;
    ShrinkageLaw law;
    std::vector<StepHeat> heat;

    JobSettings settings;

    Bed(const part::Part& of, const part::Mesh& mesh, const std::vector<Step>& job,
        int groups_per_pass = GroupSettings{}.groups_per_pass, const Watch& watch = {})
        // Ground springs of 100 N/m: with the usual ones a loose panel costs the full system and CalculiX digits.
        : part(of), steps(job),
          condensed(of, mesh, {.groups = {.groups_per_pass = groups_per_pass}, .ground_n_per_m = 100}),
          law(of, mesh), settings{.watch = watch} {
        law.prepare(steps);
        for (const Step& step : steps)
            heat.push_back(step_heat(condensed.model(), step.temperature_end_k, StripMetal(YieldCurve::effective)));
        condense_heat(condensed, heat);
        // The law fills its tables as it is asked: what later orders need is there from now on.
        CondensedResponse response(condensed);
        play(response);
    }
    std::vector<double> play(Response& response) const {
        JobRun run(condensed.model(), response, law, settings);
        for (std::size_t k = 0; k < steps.size(); ++k)
            run.play(steps[k], &heat[k]);
        run.finish();
        return run.gauges();
    }
    void count(benchmark::State& state) const {
        state.counters["nodes"] = condensed.model().node_count();
        state.counters["groups"] = static_cast<double>(condensed.model().groups().size());
        state.counters["peak_MB"] = peak_mb(RUSAGE_SELF);
    }
};

PlayedPlan arm_plan(const benchmark::State& state) {
    return play_plan(HOLDTRUE_SOURCE_DIR, "lift_arm.part.toml", "lift_arm.model.plan.toml",
                     0.01 * static_cast<double>(state.range(0)));
}

void arm_beforehand(benchmark::State& state) {
    const PlayedPlan plan = arm_plan(state);
    for (auto _ : state) {
        const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps);
        bed.count(state);
        state.counters["condensed_MB"] = static_cast<double>(bed.condensed.bytes()) * 1e-6;
    }
}

void play_condensed(benchmark::State& state, int groups_per_pass, const Watch& watch) {
    const PlayedPlan plan = arm_plan(state);
    const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps, groups_per_pass, watch);
    for (auto _ : state) {
        CondensedResponse response(bed.condensed);
        benchmark::DoNotOptimize(bed.play(response));
    }
    bed.count(state);
}
// As a simulation plays it, and as a search does.
void arm_condensed(benchmark::State& state) { play_condensed(state, GroupSettings{}.groups_per_pass, {}); }
void arm_rehearsed(benchmark::State& state) { play_condensed(state, 2, brief_watch); }

void arm_full_sparse(benchmark::State& state) {
    const PlayedPlan plan = arm_plan(state);
    const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps);
    for (auto _ : state) {
        FullResponse response(bed.condensed.model());
        const std::vector<double> full = bed.play(response);
        state.counters["factorisations"] = response.factorisations();
        // Of what the gauge is off: how far the condensed model is from this.
        CondensedResponse condensed(bed.condensed);
        const std::vector<double> ours = bed.play(condensed);
        double apart = 0;
        for (std::size_t g = 0; g < full.size(); ++g)
            apart =
                std::max(apart, std::abs(full[g] - ours[g]) / std::abs(full[g] - part::nominal(bed.part.gauges[g])));
        state.counters["apart"] = apart;
    }
    bed.count(state);
}

void arm_calculix(benchmark::State& state) {
    if (!ccx_is_there()) {
        state.SkipWithError("ccx is not installed (Debian package calculix-ccx)");
        return;
    }
    const PlayedPlan plan = arm_plan(state);
    const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps);
    for (auto _ : state) {
        CondensedResponse ours(bed.condensed);
        const double before_s = processor_s(RUSAGE_CHILDREN);
        state.counters["runs"] = play_in_both(bed.condensed.model(), ours, plan.steps).runs;
        state.SetIterationTime(processor_s(RUSAGE_CHILDREN) - before_s);
    }
    bed.count(state);
    if (const double of_ccx = peak_mb(RUSAGE_CHILDREN); of_ccx > 1.05 * peak_mb(RUSAGE_SELF))
        state.counters["ccx_peak_MB"] = of_ccx;
}

// A box with its two seams in more and more passes, eight tacks included.
void box_by_passes(benchmark::State& state) {
    const part::Part part = box(0.96, 0.08, 0.06, 0.003, 0.01, static_cast<int>(state.range(0)), 4);
    const part::Mesh mesh = part::build_mesh(part);
    Job job(part, mesh);
    for (int pass = 0; pass < static_cast<int>(part.passes.size()); ++pass)
        job.weld(pass, 180e3);
    const Bed bed(part, mesh, job.steps());
    for (auto _ : state) {
        CondensedResponse response(bed.condensed);
        bed.play(response);
    }
    bed.count(state);
    state.counters["passes"] = static_cast<double>(part.passes.size());
    state.counters["condensed_MB"] = static_cast<double>(bed.condensed.bytes()) * 1e-6;
}

// Says in the end how many condensed orders the others cost.
class RatioReporter final : public benchmark::ConsoleReporter {
public:
    RatioReporter() : ConsoleReporter(OO_Tabular) {}
    void ReportRuns(const std::vector<Run>& runs) override {
        ConsoleReporter::ReportRuns(runs);
        for (const Run& run : runs)
            if (!run.error_occurred && run.run_type == Run::RT_Iteration) {
                const bool manual = run.benchmark_name().find("manual_time") != std::string::npos;
                const double s = (manual ? run.real_accumulated_time : run.cpu_accumulated_time) /
                                 static_cast<double>(run.iterations);
                spent_s_[run.run_name.function_name][run.run_name.args] = s;
            }
    }
    void Finalize() override {
        for (const auto& [mesh, condensed_s] : spent_s_["arm_condensed"])
            for (const char* other : {"arm_rehearsed", "arm_full_sparse", "arm_calculix"})
                if (const auto found = spent_s_[other].find(mesh); found != spent_s_[other].end())
                    GetOutputStream() << mesh << ": " << other << " / arm_condensed = " << found->second / condensed_s
                                      << "\n";
    }

private:
    std::map<std::string, std::map<std::string, double>> spent_s_; // by name, then by mesh
};

// The full system and CalculiX take minutes beyond these meshes: arm_full_sparse/mesh_percent:100 and
// arm_calculix/mesh_percent:100 are run where a filter names them (--benchmark_filter).
void register_all(bool shipped_mesh_too) {
    const auto on_meshes = [](const char* name, void (*what)(benchmark::State&), const std::vector<int>& meshes) {
        auto* made = benchmark::RegisterBenchmark(name, what)->ArgName("mesh_percent")->Unit(benchmark::kMillisecond);
        for (const int mesh : meshes)
            made->Arg(mesh);
        return made;
    };
    on_meshes("arm_beforehand", arm_beforehand, {300, 200, 140, 100})->Iterations(1);
    on_meshes("arm_condensed", arm_condensed, {300, 200, 140, 100});
    on_meshes("arm_rehearsed", arm_rehearsed, {300, 200, 140, 100});
    std::vector<int> slow{300, 200};
    if (shipped_mesh_too)
        slow.push_back(100);
    on_meshes("arm_full_sparse", arm_full_sparse, slow)->Iterations(1);
    on_meshes("arm_calculix", arm_calculix, slow)->Iterations(1)->UseManualTime();
    benchmark::RegisterBenchmark("box_by_passes", box_by_passes)
        ->ArgName("runs_per_seam")
        ->Arg(4)
        ->Arg(8)
        ->Arg(16)
        ->Arg(32)
        ->Unit(benchmark::kMillisecond);
}

} // namespace

int main(int argc, char** argv) {
    bool shipped_mesh_too = false;
    for (int k = 1; k < argc; ++k)
        shipped_mesh_too |= std::string(argv[k]).find("mesh_percent:100") != std::string::npos;
    register_all(shipped_mesh_too);
    benchmark::Initialize(&argc, argv);
    if (benchmark::ReportUnrecognizedArguments(argc, argv))
        return 2;
    RatioReporter reporter;
    benchmark::RunSpecifiedBenchmarks(&reporter);
}
