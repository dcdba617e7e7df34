#include "arc/bead.h"

#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {

double deposit_share(const ArcSetting& setting, Transfer transfer) {
    switch (setting.wire.form) {
    case material::WireForm::flux_gas_shielded:
        return 0.86;
    case material::WireForm::flux_self_shielded:
        return 0.78;
    case material::WireForm::metal_cored:
        return 0.92;
    case material::WireForm::solid:
        break;
    }
    if (setting.process == Process::tig_141)
        return 1.0;
    if (transfer == Transfer::spray)
        return 0.975;
    return setting.gas.co2 > 0.5 ? 0.93 : 0.955;
}

double deposit_m3_per_s(const ArcSetting& setting, Transfer transfer) {
    const double metal_m2 =
        material::linear_mass_kg_per_m(setting.wire_diameter_m, setting.wire.form, setting.wire.metal) /
        material::density_kg_per_m3(setting.wire.metal);
    return metal_m2 * setting.wire_feed_m_per_s * deposit_share(setting, transfer);
}

BeadShape bead_shape(part::JointType type, double deposit_area_m2, double thinner_m, double groove_gap_m,
                     double penetration) {
    BeadShape shape;
    const double flat_m2 = deposit_area_m2 / (1 + convex_share);
    switch (type) {
    case part::JointType::fillet:
    case part::JointType::lap:
    case part::JointType::corner:
        shape.leg_m = std::sqrt(2 * flat_m2);
        shape.throat_m = shape.leg_m / std::sqrt(2.0);
        break;
    case part::JointType::butt: {
        const double gap_m = std::max(groove_gap_m, 0.2e-3); // below it no metal runs in
        const double filled_m = groove_gap_m > 0.2e-3 ? flat_m2 / gap_m : 0;
        shape.throat_m = std::min(thinner_m, filled_m + penetration);
        break;
    }
    case part::JointType::edge:
        shape.throat_m = std::min(2 * thinner_m, flat_m2 / (2 * thinner_m) + penetration);
        break;
    case part::JointType::plug:
        shape.throat_m = thinner_m;
        break;
    }
    shape.width_m = std::max(std::sqrt(2.0) * shape.leg_m, 2.2 * std::sqrt(flat_m2));
    return shape;
}

double area_for_leg_m2(double leg_m) { return (1 + convex_share) * leg_m * leg_m / 2; }

double penetration_m(Process process, double current_a, double volts_v, double travel_m_per_s) {
    if (current_a <= 0 || volts_v <= 0 || travel_m_per_s <= 0)
        return 0;
    const double k = process == Process::tig_141 ? 0.0007 : 0.0010; // TIG: estimate
    const double travel_in_per_min = travel_m_per_s / (units::inch / units::minute);
    return k * std::cbrt(std::pow(current_a, 4) / (travel_in_per_min * volts_v * volts_v)) * units::inch;
}

} // namespace holdtrue::arc
