// How much a laid group shrinks, once cold.
#pragma once

#include "distortion/evaluate.h"
#include "distortion/weld_group.h"

namespace holdtrue::distortion {

// Of one group; both panels in the order a, b.
struct GroupShrinkage {
    double tendon_n = 0;              // pull along the weld, both panels together; a plug: force times length [N m]
    double half_width_m = 0;          // of the strip that carries it, F / (2 sigma_y t)
    std::array<double, 2> across_m{}; // shortening across the weld
    std::array<double, 2> bend_rad{}; // angular change of the sheet under the weld
    double lean_rad = 0;              // turn of panel a towards the side its fillet is on
};

// `prior_stress_pa`: stress along the weld that was there before, mean over both panels, tension positive.
GroupShrinkage group_shrinkage(const part::Part& part, const WeldGroup& group, const Step& step,
                               double prior_stress_pa);

} // namespace holdtrue::distortion
