// Tables of gauges for a shipped plan, by hand: build/tests/bench/order_tables TABLE [PLAN] [SCALE...]
//   groups    cold gauges against the groups that a pass is cut into
//   mesh      cold gauges against the element size (SCALE multiplies it)
//   elements  gauges of the part when one joint at a time pulls, draws in or kinks, here and in CalculiX; tacks: with
//             tacks and plugs alone to hold it, else with every weld
//   ccx       cold gauges here and in CalculiX, tie by tie (tests/distortion/twin_job.h); cold: without heat
// PLAN is a path from lessons/exercises, the lift arm's model plan unless given. Heat is that of weld::simulate on the
// same mesh. Times are measured by job_bench.
#include "distortion/ccx_response.h"
#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "distortion/outcome_steps.h"
#include "distortion/step_heat.h"
#include "distortion/twin_job.h"
#include "part/gauge.h"
#include "part/read_part.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

// A job ready to be played on any response of its part.
struct Bed {
    const part::Part& part;
    const part::Mesh& mesh;
    const std::vector<Step>& steps;
    CondensedPart condensed;
    ShrinkageLaw law;
    std::vector<StepHeat> heat;

    Bed(const part::Part& of, const part::Mesh& on, const std::vector<Step>& job, int groups_per_pass)
        : part(of), mesh(on), steps(job),
          condensed(of, on, {.groups = {.groups_per_pass = groups_per_pass, .group_m = 0.09 / groups_per_pass}}),
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

// The part that the plan's name begins with.
std::string part_file_of(const std::string& plan) {
    const std::string name = std::filesystem::path(plan).filename().string();
    return name.substr(0, name.find('.')) + ".part.toml";
}

PlayedPlan play(const std::string& plan, double scale) {
    return play_plan(HOLDTRUE_SOURCE_DIR, part_file_of(plan), plan, scale);
}

void table_of_groups(const std::string& plan_file, double scale) {
    const PlayedPlan plan = play(plan_file, scale);
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
        const PlayedPlan plan = play(plan_file, scale);
        if (std::exchange(first, false))
            print_names("scale nodes", *plan.outcome->part);
        const Bed bed(*plan.outcome->part, *plan.outcome->mesh, plan.steps, 3);
        CondensedResponse response(bed.condensed);
        std::printf("%-5.2f %-6d", scale, bed.mesh.node_count());
        print_gauges(bed.part, bed.play(response));
    }
}

// Nothing decided on the way: what is left between the two is the kind of element. With tacks and plugs alone, or with
// every weld.
void table_of_elements(const std::string& plan_file, const std::vector<double>& scales, bool tacks_only) {
    const auto holds = [&](const WeldGroup& group) {
        return tacks_only ? group.kind != part::PassKind::run : group.kind != part::PassKind::tack;
    };
    constexpr std::array shrinkages{"pull", "across", "bend"}; // 20 kN, 0.1 mm, 5 mrad on either panel
    for (const double scale : scales) {
        const auto part =
            part::read_part(std::string(HOLDTRUE_SOURCE_DIR) + "/assets/parts/" + part_file_of(plan_file));
        const part::Mesh mesh = part::build_mesh(*part, scale);
        const CondensedPart condensed(*part, mesh, {.groups = {}, .ground_n_per_m = 100});
        const PartModel& model = condensed.model();
        CondensedResponse ours(condensed);
        CcxResponse theirs(model, CcxKind::with_sheet_bricks);
        print_names("scale", *part);
        std::vector<std::vector<double>> readings[2];
        for (Response* response : {static_cast<Response*>(&ours), static_cast<Response*>(&theirs)}) {
            const ShrinkageLaw law(*part, mesh);
            JobRun reader(model, *response, law);
            for (const WeldGroup& group : model.groups())
                if (holds(group)) {
                    const std::vector<int> rows = group.tie_rows();
                    response->tie(rows, std::vector<double>(rows.size(), 0.0));
                }
            for (std::size_t p = 0; p < part->panels.size(); ++p) // what the fixture and the clamps would hold
                response->release(model.panel_rows(static_cast<int>(p)));
            for (std::size_t c = 0; c < part->clamps.size(); ++c)
                if (part->clamps[c].fixed_at_start)
                    response->release(model.clamp_rows(static_cast<int>(c)));
            for (std::size_t j = 0; j < part->joints.size(); ++j)
                for (const char* what : shrinkages) {
                    std::vector<std::pair<int, double>> loads;
                    for (std::size_t g = 0; g < model.groups().size(); ++g) {
                        const WeldGroup& group = model.groups()[g];
                        if (group.joint != static_cast<int>(j) || group.kind == part::PassKind::tack)
                            continue;
                        const GroupLoads& of = model.loads_of(static_cast<int>(g));
                        for (const std::size_t side : {0u, 1u})
                            if (what[0] == 'p')
                                loads.emplace_back(of.along_narrow[side],
                                                   20e3 * model.strips(static_cast<int>(g))[side].share);
                            else
                                loads.emplace_back(what[0] == 'a' ? of.across[side] : of.bend[side],
                                                   what[0] == 'a' ? 0.1e-3 : 5e-3);
                    }
                    const int action = response->add_loads(loads);
                    response->set_level(action, 1);
                    readings[response == &theirs].push_back(reader.gauges());
                    response->set_level(action, 0);
                }
        }
        for (std::size_t k = 0; k < readings[0].size(); ++k)
            for (const int who : {0, 1}) {
                std::printf("%-4.1f %s %-11s %-6s", scale, who == 0 ? "ours" : "ccx ",
                            part->joints[k / shrinkages.size()].name.c_str(), shrinkages[k % shrinkages.size()]);
                print_gauges(*part, readings[who][k]);
            }
        std::fflush(stdout);
    }
}

void table_of_ccx(const std::string& plan_file, const std::vector<double>& scales, bool cold) {
    bool first = true;
    for (const double scale : scales) {
        PlayedPlan plan = play(plan_file, scale);
        if (cold)
            for (Step& step : plan.steps)
                step.temperature_end_k = {};
        const part::Part& part = *plan.outcome->part;
        const CondensedPart condensed(part, *plan.outcome->mesh,
                                      {.groups = {}, .ground_n_per_m = 100}); // ccx prints seven digits
        CondensedResponse ours(condensed);
        const InBoth both = play_in_both(condensed.model(), ours, plan.steps, CcxKind::with_sheet_bricks);
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
    const bool cold = std::erase(words, "cold") > 0, tacks_only = std::erase(words, "tacks") > 0;
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
    else if (table == "elements")
        table_of_elements(plan, scales.empty() ? std::vector{3.0, 2.0, 1.0} : scales, tacks_only);
    else if (table == "ccx")
        table_of_ccx(plan, scales.empty() ? std::vector{3.0} : scales, cold);
    else
        return std::fputs("order_tables groups|mesh|elements|ccx [PLAN] [SCALE...] [cold] [tacks]\n", stderr), 2;
} catch (const std::exception& error) {
    return std::fprintf(stderr, "%s\n", error.what()), 2;
}
