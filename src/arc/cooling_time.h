// Cooling time from 800 to 500 C, on which the hardness beside a weld depends. EN 1011-2:2001 annex D, from memory:
//   three-dimensional  t = (6700 - 5 T0) Q [1/(500-T0) - 1/(800-T0)] F3
//   two-dimensional    t = (4300 - 4.3 T0) 1e5 Q^2/d^2 [1/(500-T0)^2 - 1/(800-T0)^2] F2
// with Q kJ/mm (net, k counted), T0 C, d mm; two-dimensional below the transition thickness. Unalloyed and low-alloy
// steel, T0 to 250 C, Q 0.5-5 kJ/mm; below 0.5 kJ/mm an extrapolation.
#pragma once

#include "part/part.h"

namespace holdtrue::arc {

struct JointFactors {
    double two_dimensional = 1, three_dimensional = 1; // F2, F3
};
// Bead on plate 1/1; butt 0.9/0.9; corner, lap, single-run fillet 0.9/0.67; tee 0.56 (0.45-0.67)/0.67.
JointFactors joint_factors(part::JointType type);

struct CoolingTime {
    double two_dimensional_s = 0, three_dimensional_s = 0;
    double transition_m = 0; // thickness at which the two agree for factors of 1
    bool two_dimensional_governs = false;
    double seconds() const { return two_dimensional_governs ? two_dimensional_s : three_dimensional_s; }
};
// start_k below 500 C; the longer of the two times governs.
CoolingTime cooling_time(double heat_input_j_per_m, double start_k, double thickness_m, const JointFactors& factors);

} // namespace holdtrue::arc
