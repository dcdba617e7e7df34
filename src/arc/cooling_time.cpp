#include "arc/cooling_time.h"

#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {

JointFactors joint_factors(part::JointType type) {
    switch (type) {
    case part::JointType::butt:
    case part::JointType::edge:
        return {0.9, 0.9};
    case part::JointType::corner:
    case part::JointType::lap:
        return {0.9, 0.67};
    case part::JointType::fillet:
        return {0.56, 0.67};
    case part::JointType::plug:
        break;
    }
    return {1, 1};
}

CoolingTime cooling_time(double heat_input_j_per_m, double start_k, double thickness_m, const JointFactors& factors) {
    const double q = heat_input_j_per_m * 1e-6; // kJ/mm
    const double d = thickness_m * 1e3;
    const double start = std::clamp(units::to_celsius(start_k), -50.0, 450.0);
    const double to_500 = 1 / (500 - start), to_800 = 1 / (800 - start);
    const double three = (6700 - 5 * start), two = (4300 - 4.3 * start) * 1e5;

    CoolingTime time;
    time.three_dimensional_s = three * q * (to_500 - to_800) * factors.three_dimensional;
    time.two_dimensional_s =
        d > 0 ? two * q * q / (d * d) * (to_500 * to_500 - to_800 * to_800) * factors.two_dimensional : 0;
    time.transition_m = std::sqrt(two / three * q * (to_500 + to_800)) * 1e-3;
    time.two_dimensional_governs = time.two_dimensional_s > time.three_dimensional_s;
    return time;
}

} // namespace holdtrue::arc
