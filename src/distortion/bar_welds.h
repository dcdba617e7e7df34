// A flat bar welded along lines of its width, one pass after another, hot or cold: how much it bows in its plane and
// shortens. The strip model's own worked case, and the way two passes act on each other: the second finds the stress
// of the first, and by bending and warming the bar it stretches the first one's tendon beyond yield, which then pulls
// less for good.
// All passes run from the same end: a section meets each torch at the same interval. Ends of the bar left out.
#pragma once

#include "distortion/strip_model.h"

#include <span>
#include <vector>

namespace holdtrue::distortion {

struct Bar {
    double length_m = 0, width_m = 0, thickness_m = 0;
    double yield_pa = 235e6;
};

struct BarWeld {
    TorchPass torch; // at_m from one edge, 0 to the width
    // Time from the pass before it to this one, at any section: at least length / travel in one direction. The heat of
    // a pass is felt from some 8 s before it to 17 s after it at 6 mm/s; shorter times than that are drawn out to it.
    double interval_s = 0;
    double wait_below_k = 0; // and then until the section is below this temperature; 0: not asked
};

struct BarOutcome {
    double bow_m = 0;                // in its plane, over the length; positive: the edge at 0 became hollow
    double shortening_m = 0;         // of the middle line
    std::vector<double> force_n;     // weld_count: tendon force of the metal nearest to each weld line
    std::vector<double> interpass_k; // weld_count: hottest of the section when the pass begins to be felt
    bool converged = true;
};

BarOutcome weld_bar(const Bar& bar, std::span<const BarWeld> welds, const StripMetal& metal,
                    const HeatSettings& settings = {}, const Grading& grading = {0.0004, 0.06});

} // namespace holdtrue::distortion
