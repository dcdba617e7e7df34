// Faces that touch: whatever the order of a job, contact comes to rest, and then none crosses and none pulls.
#include "distortion/condensed_response.h"
#include "distortion/job_run.h"
#include "distortion/step_heat.h"
#include "part/read_part.h"
#include "sample_parts.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <random>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

// The part's passes in a random order, tacks first.
std::vector<int> random_order(const part::Part& part, unsigned seed) {
    std::vector<int> order(part.passes.size());
    std::iota(order.begin(), order.end(), 0);
    std::shuffle(order.begin(), order.end(), std::mt19937(seed));
    std::ranges::stable_partition(
        order, [&](int pass) { return part.passes[static_cast<std::size_t>(pass)].kind == part::PassKind::tack; });
    return order;
}

} // namespace

TEST_CASE("contacts of lapped strips come to rest in every order, where all that are wrong at a time go round") {
    const auto part = part::read_part(std::string(HOLDTRUE_SOURCE_DIR) + "/assets/parts/lap_strip.part.toml");
    const part::Mesh mesh = part::build_mesh(*part);
    const CondensedPart condensed(*part, mesh);
    for (unsigned seed = 1; seed <= 15; ++seed) {
        CAPTURE(seed);
        Job job(*part, mesh);
        for (const int pass : random_order(*part, seed))
            job.weld(pass, 250e3, 900);
        ShrinkageLaw law(*part, mesh);
        law.prepare(job.steps());
        CondensedResponse response(condensed);
        JobRun run(condensed.model(), response, law);
        for (const Step& step : job.steps()) {
            const StepHeat heat =
                step_heat(condensed.model(), step.temperature_end_k, StripMetal(YieldCurve::effective));
            run.play(step, &heat);
            CHECK(run.deepest_overlap_m() < 5e-6); // the give of the contact springs
            for (std::size_t g = 0; g < run.state().faces.size(); ++g)
                if (run.state().faces[g] == JobRun::Faces::touching)
                    CHECK(response.force(condensed.model().groups()[g].opening()) < 1e-3);
        }
        run.finish();
        CHECK(run.settled());
    }
}
