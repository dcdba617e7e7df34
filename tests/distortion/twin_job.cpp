#include "twin_job.h"

#include "distortion/step_heat.h"
#include "part/gauge.h"
#include "twin_response.h"

#include <algorithm>
#include <chrono>
#include <cmath>

namespace holdtrue::distortion::testing {

InBoth play_in_both(const PartModel& model, Response& ours, const std::vector<Step>& steps, CcxKind kind) {
    const auto start = std::chrono::steady_clock::now();
    CcxResponse theirs(model, kind);
    TwinResponse twin(ours, theirs);
    ShrinkageLaw law(model.part(), model.mesh());
    law.prepare(steps);
    JobRun run(model, twin, law);
    const auto changes = [&] {
        std::vector<double> change = run.gauges();
        for (std::size_t g = 0; g < change.size(); ++g)
            change[g] -= part::nominal(model.part().gauges[g]);
        return change;
    };
    InBoth both;
    both.ours = changes();
    both.moved.assign(both.ours.size(), 0);
    const auto note = [&] {
        const std::vector<double> now = changes();
        for (std::size_t g = 0; g < now.size(); ++g)
            both.moved[g] += std::abs(now[g] - both.ours[g]);
        both.ours = now;
    };
    std::vector<StepHeat> heat; // none of a step without temperatures
    for (const Step& step : steps)
        heat.push_back(step.temperature_end_k.empty()
                           ? StepHeat{}
                           : step_heat(model, step.temperature_end_k, StripMetal(YieldCurve::effective)));
    for (std::size_t k = 0; k < steps.size(); ++k) {
        run.play(steps[k], steps[k].temperature_end_k.empty() ? nullptr : &heat[k]);
        note();
    }
    run.finish();
    note();

    twin.answer_from(theirs);
    both.theirs = changes();
    both.deepest_overlap_m = run.deepest_overlap_m();
    for (const WeldGroup& group : model.groups())
        if (theirs.is_fixed(group.opening()) && !theirs.is_fixed(group.first_tie))
            both.largest_pull_n = std::max(both.largest_pull_n, theirs.force(group.opening()));
    for (const WeldGroup& group : model.groups())
        both.births += theirs.is_fixed(group.first_tie);
    both.runs = theirs.runs();
    both.ccx_s = theirs.run_s();
    both.own_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() - both.ccx_s;
    return both;
}

} // namespace holdtrue::distortion::testing
