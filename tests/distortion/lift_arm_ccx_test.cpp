// Whole jobs in CalculiX (ccx, a general-purpose finite-element code) and in the condensed model at once (twin_job.h).
// ccx has the part as bricks on the same mesh (ccx_bricks.h): two kinds of elements, which agree better the finer the
// mesh. What is compared is measured against all that a job moves a gauge, step by step, since large moves one way and
// the other leave little in the end. tests/reference/RESULTS.md has finer meshes and the whole table.
#include "distortion/condensed_response.h"
#include "outcome_steps.h"
#include "sample_parts.h"
#include "twin_job.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

bool no_ccx() {
    if (ccx_is_there())
        return false;
    MESSAGE("skipped: ccx is not installed (Debian package calculix-ccx)");
    return true;
}

void print(const part::Part& part, const InBoth& both) {
    for (std::size_t g = 0; g < both.ours.size(); ++g)
        MESSAGE(part.gauges[g].name, ": ", 1e3 * both.ours[g], " and ", 1e3 * both.theirs[g], " in ccx, moved ",
                1e3 * both.moved[g], " in all [mm, mrad]");
    MESSAGE(both.births, " groups tied, ", both.runs, " runs of ccx, ", both.ccx_s, " s");
}

InBoth weld_lift_arm(const std::string& plan_file) {
    const PlayedPlan plan = play_plan(HOLDTRUE_SOURCE_DIR, "lift_arm.part.toml", plan_file, std::getenv("SCALE") ? std::atof(std::getenv("SCALE")) : 3);
    const part::Part& part = *plan.outcome->part;
    std::vector<Step> steps = plan.steps;
    if (!std::getenv("HEAT")) for (Step& s : steps) s.temperature_start_k = s.temperature_end_k = {};
    const CondensedPart condensed(part, *plan.outcome->mesh,
                                  {.groups = {.groups_per_pass = 1}, .ground_n_per_m = 100});
    CondensedResponse ours(condensed);
    const InBoth both = play_in_both(condensed.model(), ours, steps, {.contact = std::getenv("CONTACT") != nullptr});
    print(part, both);
    return both;
}

} // namespace

TEST_CASE("box ccx") {
    if (no_ccx())
        return;
    part::Part part = box(0.3, 0.08, 0.06, 0.003, 0.01, 3, 2);
    const part::Mesh mesh = part::build_mesh(part);
    Job job(part, mesh); // tacks: passes 0 1 and 5 6; runs: 2 3 4 and 7 8 9
    job.weld(0, 150e3).weld(5, 150e3).weld(1, 150e3).weld(6, 150e3).weld(3, 200e3, 500).weld(8, 200e3);
    job.weld(2, 200e3, 450, true).weld(9, 200e3).weld(7, 200e3).wait_until(60).weld(4, 200e3);
    const CondensedPart condensed(part, mesh, {.groups = {.groups_per_pass = 1}, .ground_n_per_m = 100});
    CondensedResponse ours(condensed);
    const InBoth both = play_in_both(condensed.model(), ours, job.steps());
    print(part, both);
    MESSAGE(both.deepest_overlap_m, " ", both.largest_pull_n);
}

TEST_CASE("arm ccx") {
    if (no_ccx())
        return;
    weld_lift_arm(std::getenv("PLAN"));
}
