// Whole jobs on small parts: the condensed answer against the full sparse one, and what must hold whatever the law.
#include "distortion/condensed_response.h"
#include "distortion/full_response.h"
#include "distortion/job_run.h"
#include "sample_parts.h"
#include "shell_grid.h"

#include <doctest/doctest.h>

#include <chrono>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

double since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

std::vector<std::vector<double>> readings(const PartModel& model, Response& response, const std::vector<Step>& steps) {
    JobRun run(model, response);
    std::vector<std::vector<double>> all;
    for (const Step& step : steps) {
        run.play(step);
        all.push_back(run.gauges());
    }
    run.finish();
    all.push_back(run.gauges());
    CHECK(run.settled());
    return all;
}

} // namespace

TEST_CASE("condensed equals full sparse") {
    part::Part part = box(0.3, 0.08, 0.06, 0.003, 0.015, 3, 2);
    part::Clamp clamp;
    clamp.name = "mid";
    clamp.panel = 0;
    clamp.at = {0.15, 0, -0.03};
    clamp.fixed_at_start = true;
    part.clamps.push_back(clamp);
    clamp.name = "end";
    clamp.at = {0.29, 0, -0.03};
    clamp.fixed_at_start = false;
    part.clamps.push_back(clamp);
    const part::Mesh mesh = part::build_mesh(part);
    Job job(part, mesh);
    // tacks: passes 0 1 and 5 6; runs: 2 3 4 and 7 8 9
    job.weld(0, 150e3).weld(5, 150e3).weld(1, 150e3).weld(6, 150e3).clamp(1, true).weld(3, 200e3, 500).weld(8, 200e3);
    job.clamp(0, false).weld(2, 200e3, 450, true).weld(9, 200e3).weld(7, 200e3).wait_until(60).weld(4, 200e3);

    auto start = std::chrono::steady_clock::now();
    // Ground springs of 10 N/m: with the usual 0.01 N/m the full system, not the condensed one, loses digits while
    // the panels still float (1e-8 m here).
    const CondensedPart condensed(part, mesh, {.groups = {}, .ground_n_per_m = 10});
    const double built_s = since(start);
    start = std::chrono::steady_clock::now();
    CondensedResponse quick(condensed);
    const auto a = readings(condensed.model(), quick, job.steps());
    const double quick_s = since(start);
    start = std::chrono::steady_clock::now();
    FullResponse slow(condensed.model());
    const auto b = readings(condensed.model(), slow, job.steps());
    MESSAGE("nodes ", mesh.node_count(), " rows ", condensed.model().row_count(), " built ", built_s, " s, condensed ",
            quick_s, " s, full ", since(start), " s, factorisations ", slow.factorisations());
    for (std::size_t k = 0; k < a.size(); ++k)
        for (std::size_t g = 0; g < a[k].size(); ++g) {
            const double change = std::abs(b[k][g] - part::nominal(part.gauges[g]));
            CHECK(std::abs(a[k][g] - b[k][g]) <= 1e-6 * change + 1e-10);
        }
}
