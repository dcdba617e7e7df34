// How fast heat conduction runs: node stages per second against what the machine's memory allows, cost over mesh size
// and over the length of a plan, and an hour on the lift arm.
//
// The bound is a stream triad, a[i] = b[i] + s c[i], on as many bytes as the solver touches in a stage and in the same
// run: nodes_at_bound/s = triad bytes per second / bytes a node needs per stage. All times are CPU times, so that other
// work on the machine disturbs them little.
#include "heat/conduction.h"
#include "heat/pass_record.h"
#include "heat/plates.h"
#include "part/read_part.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <ctime>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::heat;

namespace {

double cpu_s() {
    std::timespec t{};
    ::clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

// Best of several runs, over arrays of `bytes` in all [bytes/s].
double triad_bytes_per_s(double bytes) {
    const auto n = static_cast<std::size_t>(bytes / 24);
    std::vector<double> a(n, 1.0), b(n, 2.0), c(n, 3.0);
    const int repeats = std::max(1, static_cast<int>(2e7 / static_cast<double>(n)));
    double best_s = 1e9;
    for (int run = 0; run < 7; ++run) {
        const double from_s = cpu_s();
        for (int r = 0; r < repeats; ++r) {
            double* const x = a.data();
            const double* const y = b.data();
            const double* const z = c.data();
#pragma GCC ivdep
            for (std::size_t k = 0; k < n; ++k)
                x[k] = y[k] + 1.5 * z[k];
            benchmark::ClobberMemory();
        }
        best_s = std::min(best_s, (cpu_s() - from_s) / repeats);
    }
    return 24 * static_cast<double>(n) / best_s;
}

// What one stage has to bring in and put out for a node: h, before, start, rate, east, north, face, volume in (two
// diagonals more on skewed cells); theta and h out. The table and the neighbours of theta come from the first cache.
constexpr double bytes_per_node(bool skewed) { return 8.0 * (skewed ? 12 : 10); }

void conduct(benchmark::State& state, bool skewed) {
    // 60 columns, as many rows as make up the count.
    const auto rows = static_cast<double>(state.range(0)) / 60;
    part::Panel plate = part::test::plate(0.295, 0.005 * rows, 0.003);
    if (skewed)
        for (part::Point& p : plate.profile_b)
            p.x() = 0.8 * p.x() + 0.02;
    auto mesh = test::mesh_of({plate}, 0.005);
    const SurfaceLaw air{.convection_w_per_m2k = 10, .emissivity = 0.7};
    Conduction heat(mesh, material::ThermalMaterial::steel(), {{air, air}}, 293.15);
    for (int node = 0; node < mesh->node_count(); node += 7)
        heat.set_temperature(node, 300 + node % 700);
    const double step_s = 20 * heat.explicit_step_s(); // nine stages

    const long long stages_before = heat.node_stages();
    double spent_s = 0;
    for (auto _ : state) {
        const double from_s = cpu_s();
        heat.advance(step_s);
        spent_s += cpu_s() - from_s;
    }
    const double node_stages = static_cast<double>(heat.node_stages() - stages_before);
    const double triad = triad_bytes_per_s(bytes_per_node(skewed) * mesh->node_count());
    state.counters["node_stages/s"] = node_stages / spent_s;
    state.counters["triad_GB/s"] = triad / 1e9;
    state.counters["of_bound"] = node_stages / spent_s * bytes_per_node(skewed) / triad;
}

void straight_cells(benchmark::State& state) { conduct(state, false); }
void skewed_cells(benchmark::State& state) { conduct(state, true); }
BENCHMARK(straight_cells)->Arg(3000)->Arg(10000)->Arg(30000)->Arg(100000)->Arg(300000)->Unit(benchmark::kMicrosecond);
BENCHMARK(skewed_cells)->Arg(10000)->Arg(100000)->Unit(benchmark::kMicrosecond);

// Welds runs, tacks and plugs of a part in the order of its file with a fixed card, a pause after each, and lets it
// cool until an hour is over.
struct Job {
    std::shared_ptr<const part::Part> part;
    std::shared_ptr<const part::Mesh> mesh;
};

Job lift_arm(double element_scale) {
    auto part = part::read_part(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts/lift_arm.part.toml");
    return {part, std::make_shared<const part::Mesh>(part::build_mesh(*part, element_scale))};
}

struct Work {
    double simulated_s = 0, node_stages = 0;
    int passes = 0, steps = 0;
};

Work weld_hour(const Job& job, std::size_t most_passes, double hour_s) {
    WeldHeat heat(job.part, job.mesh, {.ambient_k = job.part->ambient_k});
    PassRecord record(heat, 2);
    const std::size_t passes = std::min(most_passes, job.part->passes.size());
    for (std::size_t p = 0; p < passes; ++p) {
        record.weld({.pass = static_cast<int>(p),
                     .net_power_w = 1800,
                     .travel_m_per_s = 0.006,
                     .plug_s = 4,
                     .throat_m = 0.003});
        record.wait(15, 0);
    }
    record.wait(std::max(1.0, hour_s - heat.time_s()), 0);
    return {heat.time_s(), static_cast<double>(heat.node_stages()), static_cast<int>(passes), heat.steps()};
}

void report(benchmark::State& state, const Job& job, const Work& work) {
    state.counters["nodes"] = job.mesh->node_count();
    state.counters["passes"] = work.passes;
    state.counters["steps"] = work.steps;
    state.counters["simulated_s"] = work.simulated_s;
    state.counters["node_stages"] = work.node_stages;
}

void lift_arm_hour(benchmark::State& state) { // argument: element size in percent of the part's own
    const Job job = lift_arm(static_cast<double>(state.range(0)) / 100);
    Work work;
    for (auto _ : state)
        work = weld_hour(job, 1000, 3600);
    report(state, job, work);
}
BENCHMARK(lift_arm_hour)->Arg(100)->Arg(70)->Arg(50)->Unit(benchmark::kMillisecond);

void plan_length(benchmark::State& state) { // argument: passes welded
    const Job job = lift_arm(1);
    Work work;
    for (auto _ : state)
        work = weld_hour(job, static_cast<std::size_t>(state.range(0)), 0);
    report(state, job, work);
}
BENCHMARK(plan_length)->Arg(10)->Arg(20)->Arg(40)->Arg(80)->Unit(benchmark::kMillisecond);

} // namespace

BENCHMARK_MAIN();
