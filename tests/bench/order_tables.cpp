// Tables about a shipped plan of the lift arm, by hand: build/tests/bench/order_tables TABLE [PLAN] [SCALE...]
//   groups    cold gauges against the groups that a pass is cut into
//   mesh      cold gauges against the element size (SCALE multiplies it)
//   speed     time and memory of one complete order: condensed, full sparse, CalculiX; on each mesh
//   passes    condensed time against the number of passes: a box with its seams in more and more runs
//   ccx       cold gauges here and in CalculiX, tie by tie (tests/distortion/twin_job.h); cold: without heat
// PLAN is a file of lessons/exercises, the model plan unless given. Heat is that of weld::simulate on the same mesh.
#include "distortion/ccx_response.h"
#include "distortion/condensed_response.h"
#include "distortion/full_response.h"
#include "distortion/job_run.h"
#include "distortion/outcome_steps.h"
#include "distortion/sample_parts.h"
#include "distortion/step_heat.h"
#include "distortion/twin_job.h"

#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

// Processor time: the machine may be busy with other things.
double seconds(const std::function<void()>& work) {
    const std::clock_t start = std::clock();
    work();
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

// A job ready to be played on any response of its part.
struct Bed {
    const part::Part& part;
    const part::Mesh& mesh;
    const std::vector<Step>& steps;
    CondensedPart condensed;
    ShrinkageLaw law;
    std::vector<StepHeat> heat;

    Bed(const part::Part& of, const part::Mesh& on, const std::vector<Step>& job, int groups_per_pass,
        double ground_n_per_m = PartModelSettings{}.ground_n_per_m)
        : part(of), mesh(on), steps(job),
          condensed(of, on,
                    {.groups = {.groups_per_pass = groups_per_pass, .group_m = 0.09 / groups_per_pass},
                     .ground_n_per_m = ground_n_per_m}),
          law(of, on) {
        law.prepare(steps);
        for (const Step& step : steps)
            heat.push_back(step_heat(condensed.model(), step.temperature_end_k, StripMetal(YieldCurve::effective)));
        condense_heat(condensed, heat);
    }
    std::vector<double> play(Response& response) const {
        JobRun run(condensed.model(), response, law);
        for (std::size_t k = 0; k < steps.size(); ++k)
            run.play(steps[k], &heat[k]);
        run.finish();
        return run.gauges();
    }
    // Of one order, the mean of as many as take a quarter of a second.
    double condensed_s() const {
        int count = 0;
        double spent = 0;
        for (; spent < 0.25; ++count)
            spent += seconds([&] {
                CondensedResponse response(condensed);
                play(response);
            });
        return spent / count;
    }
};

void print_gauges(const part::Part& part, const std::vector<double>& readings) {
    for (std::size_t g = 0; g < readings.size(); ++g)
        std::printf(" %11.4f", 1e3 * (readings[g] - part::nominal(part.gauges[g])));
    std::printf("\n");
}

void print_names(const char* first, const part::Part& part) {
    std::printf("%-12s", first);
    for (const part::Gauge& gauge : part.gauges)
        std::printf(" %11s", gauge.name.c_str());
    std::printf("   [mm, mrad]\n");
}

PlayedPlan lift_arm(const std::string& plan, double scale) {
    return play_plan(HOLDTRUE_SOURCE_DIR, "lift_arm.part.toml", plan, scale);
}

void table_of_groups(const std::string& plan_file, double scale) {
    const PlayedPlan plan = lift_arm(plan_file, scale);
    print_names("groups", *plan.outcome->part);
    for (const int groups : {1, 2, 3, 4, 6, 9}) {
        const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps, groups);
        CondensedResponse response(bed.condensed);
        std::printf("%-12d", groups);
        print_gauges(bed.part, bed.play(response));
    }
}

void table_of_meshes(const std::string& plan_file, const std::vector<double>& scales) {
    bool first = true;
    for (const double scale : scales) {
        const PlayedPlan plan = lift_arm(plan_file, scale);
        if (std::exchange(first, false))
            print_names("scale nodes", *plan.outcome->part);
        const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps, 3);
        CondensedResponse response(bed.condensed);
        std::printf("%-5.2f %-6d", scale, bed.mesh.node_count());
        print_gauges(bed.part, bed.play(response));
    }
}

rusage usage(int who) {
    rusage used{};
    getrusage(who, &used);
    return used;
}
double peak_mb(int who) { return static_cast<double>(usage(who).ru_maxrss) / 1024; }
double children_s() {
    const rusage used = usage(RUSAGE_CHILDREN);
    return static_cast<double>(used.ru_utime.tv_sec + used.ru_stime.tv_sec) +
           1e-6 * static_cast<double>(used.ru_utime.tv_usec + used.ru_stime.tv_usec);
}

// One group to a pass, as in the comparison with ccx; ccx only solves where a tie is born and in the end.
void table_of_speed(const std::string& plan_file, const std::vector<double>& scales) {
    std::printf("%-6s %6s %11s %9s %9s %11s %9s %9s %10s %10s %9s\n", "scale", "nodes", "condense s", "MB", "order ms",
                "full s", "factors", "ccx s", "full/cond", "ccx/cond", "ccx MB");
    for (const double scale : scales) {
        const PlayedPlan plan = lift_arm(plan_file, scale);
        std::optional<Bed> bed;
        const double condense_s =
            seconds([&] { bed.emplace(*plan.outcome->part, *plan.outcome->mesh, plan.steps, 1, 100); });
        const double order_s = bed->condensed_s();
        FullResponse full(bed->condensed.model());
        const double full_s = seconds([&] { bed->play(full); });
        double ccx_s = 0;
        if (ccx_is_there()) {
            CondensedResponse ours(bed->condensed);
            const double before = children_s();
            play_in_both(bed->condensed.model(), ours, plan.steps);
            ccx_s = children_s() - before;
        }
        std::printf("%-6.2f %6d %11.2f %9.1f %9.2f %11.2f %9d %9.1f %10.0f %10.0f %9.0f\n", scale,
                    bed->mesh.node_count(), condense_s, static_cast<double>(bed->condensed.bytes()) * 1e-6,
                    1e3 * order_s, full_s, full.factorisations(), ccx_s, full_s / order_s, ccx_s / order_s,
                    peak_mb(RUSAGE_CHILDREN));
        std::fflush(stdout);
    }
    std::printf("largest that this program was: %.0f MB\n", peak_mb(RUSAGE_SELF));
}

void table_of_passes() {
    std::printf("%6s %7s %6s %11s %9s %9s\n", "passes", "groups", "nodes", "condense s", "MB", "order ms");
    for (const int runs : {4, 8, 16, 32}) {
        const part::Part part = box(0.96, 0.08, 0.06, 0.003, 0.01, runs, 4);
        const part::Mesh mesh = part::build_mesh(part);
        Job job(part, mesh);
        for (int pass = 0; pass < static_cast<int>(part.passes.size()); ++pass)
            job.weld(pass, 180e3);
        std::optional<Bed> bed;
        const double condense_s = seconds([&] { bed.emplace(part, mesh, job.steps(), 1); });
        std::printf("%6d %7d %6d %11.2f %9.1f %9.2f\n", static_cast<int>(part.passes.size()),
                    static_cast<int>(bed->condensed.model().groups().size()), mesh.node_count(), condense_s,
                    static_cast<double>(bed->condensed.bytes()) * 1e-6, 1e3 * bed->condensed_s());
    }
}

void table_of_ccx(const std::string& plan_file, const std::vector<double>& scales, bool cold) {
    bool first = true;
    for (const double scale : scales) {
        PlayedPlan plan = lift_arm(plan_file, scale);
        if (cold)
            for (Step& step : plan.steps)
                step.temperature_end_k = {};
        const part::Part& part = *plan.outcome->part;
        const CondensedPart condensed(part, *plan.outcome->mesh,
                                      {.groups = {.groups_per_pass = 1}, .ground_n_per_m = 100});
        CondensedResponse ours(condensed);
        const InBoth both = play_in_both(condensed.model(), ours, plan.steps);
        if (std::exchange(first, false))
            print_names("scale", part);
        const auto print = [&](const char* who, const std::vector<double>& values) {
            std::printf("%-5.2f %-6s", scale, who);
            for (const double value : values)
                std::printf(" %11.4f", 1e3 * value);
            std::printf("\n");
        };
        print("ours", both.ours);
        print("ccx", both.theirs);
        print("moved", both.moved);
        std::printf("      faces cross by %.2g um and pull %.2g N in ccx; %d runs, %.0f s\n",
                    1e6 * both.deepest_overlap_m, both.largest_pull_n, both.runs, both.ccx_s);
        std::fflush(stdout);
    }
}

} // namespace

int main(int argc, char** argv) try {
    std::vector<std::string> words(argv + 1, argv + argc);
    const bool cold = std::erase(words, "cold") > 0;
    const std::string table = words.empty() ? "" : words[0];
    std::string plan = "lift_arm.model.plan.toml";
    std::vector<double> scales;
    for (std::size_t k = 1; k < words.size(); ++k)
        if (const double scale = std::atof(words[k].c_str()); scale > 0)
            scales.push_back(scale);
        else
            plan = words[k];
    if (table == "groups")
        table_of_groups(plan, scales.empty() ? 1 : scales[0]);
    else if (table == "mesh")
        table_of_meshes(plan, scales.empty() ? std::vector{2.0, 1.4, 1.0, 0.7} : scales);
    else if (table == "speed")
        table_of_speed(plan, scales.empty() ? std::vector{3.0, 2.0} : scales);
    else if (table == "passes")
        table_of_passes();
    else if (table == "ccx")
        table_of_ccx(plan, scales.empty() ? std::vector{3.0} : scales, cold);
    else
        return std::fputs("order_tables groups|mesh|speed|passes|ccx [PLAN] [SCALE...] [cold]\n", stderr), 2;
} catch (const std::exception& error) {
    return std::fprintf(stderr, "%s\n", error.what()), 2;
}
