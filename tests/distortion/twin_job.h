// A whole job in the condensed model and in CalculiX at once: the same births of ties, one after another, the same
// shrinkage, heat, yielding, contacts and clamps (twin_response.h).
#pragma once

#include "ccx_response.h"
#include "distortion/job_run.h"

namespace holdtrue::distortion::testing {

struct InBoth {
    std::vector<double> ours, theirs; // gauge_count: change of each gauge, cold and freed
    std::vector<double> moved;        // gauge_count: sum of what each step moved the gauge, either way, ours
    // In ccx, when cold: how far open faces cross, and the largest force that faces which touch pull each other with.
    double deepest_overlap_m = 0, largest_pull_n = 0;
    double own_s = 0, ccx_s = 0; // wall clock
    int births = 0, runs = 0;    // groups tied; runs of ccx
};

// `ours` answers for `model` and decides.
InBoth play_in_both(const PartModel& model, Response& ours, const std::vector<Step>& steps,
                    CcxKind kind = CcxKind::plain);

} // namespace holdtrue::distortion::testing
