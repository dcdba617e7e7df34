#include "distortion/shrinkage_law.h"

#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {

GroupShrinkage group_shrinkage(const part::Part& part, const WeldGroup& group, const Step& step,
                               double prior_stress_pa) {
    const part::Joint& joint = part.joints[static_cast<std::size_t>(group.joint)];
    const part::Panel& a = part.panels[static_cast<std::size_t>(joint.panel_a)];
    const part::Panel& b = part.panels[static_cast<std::size_t>(joint.panel_b)];
    const double yield = std::min(a.yield_pa, b.yield_pa);

    GroupShrinkage shrinkage;
    // Okerblom: F = 0.335 E alpha / (rho c) q, 0.17 to 0.18 N per J/m (from memory). Prior tension lowers it, prior
    // compression raises it, by our own strip model about as exp(-1.65 s / yield).
    const double stress = std::clamp(prior_stress_pa / yield, -0.5, 1.0);
    const double of_heat = 0.18 * std::exp(-1.65 * stress);
    if (group.kind == part::PassKind::plug) {
        shrinkage.tendon_n = of_heat * step.heat_j;
        return shrinkage;
    }
    const double q = step.heat_input_j_per_m;
    shrinkage.tendon_n = of_heat * q;
    const double metal_m = a.thickness_m + b.thickness_m; // thickness of strip per side, both panels
    shrinkage.half_width_m = shrinkage.tendon_n / (2 * yield * 0.5 * metal_m);

    // Transverse: S = 0.10 A_w / t, O. W. Blodgett (from memory); where rules disagree by two it is the low one.
    const double t_mean = 0.5 * metal_m;
    const double across = 0.10 * step.deposit_area_m2 / t_mean;
    // A panel that the weld crosses takes it all; two edges share it.
    const bool tee = joint.type == part::JointType::fillet;
    shrinkage.across_m = tee ? std::array<double, 2>{0.0, across} : std::array<double, 2>{0.5 * across, 0.5 * across};
    if (tee) {
        // Angular change of a tee's flange, delta = 0.02 W D^1.3 / T^2 at the flange's edge in inches (O. W. Blodgett,
        // from memory, for both fillets): one fillet gives half, over half the flange's width.
        constexpr double inch = 0.0254;
        const double leg = std::sqrt(2.0) * step.throat_m / inch, flange = b.thickness_m / inch;
        shrinkage.bend_rad[1] = std::min(0.05, 2 * 0.5 * 0.02 * std::pow(leg, 1.3) / (flange * flange));
    }
    return shrinkage;
}

} // namespace holdtrue::distortion
