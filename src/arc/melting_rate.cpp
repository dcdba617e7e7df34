#include "arc/melting_rate.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {

double MeltingRate::feed_m_per_s(double current, double extension_m) const {
    return alpha_m_per_as * current + beta_per_a2s * extension_m * (current * current + ripple_a * ripple_a);
}

double MeltingRate::current_a(double feed, double extension_m) const {
    const double quadratic = beta_per_a2s * extension_m;
    const double rest = feed - quadratic * ripple_a * ripple_a;
    if (rest <= 0)
        return 0;
    // The form of the root that stays exact when the quadratic term vanishes.
    return 2 * rest / (alpha_m_per_as + std::sqrt(alpha_m_per_as * alpha_m_per_as + 4 * quadratic * rest));
}

MeltingRate melting_rate(double wire_diameter_m, material::WireForm form, material::Metal metal) {
    constexpr double reference_m = 1.2e-3;
    const double area_ratio = std::pow(reference_m / wire_diameter_m, 2);
    const double small_wire = std::clamp(0.92 + 0.08 * (wire_diameter_m - 0.9e-3) / 0.3e-3, 0.92, 1.0);

    MeltingRate rate{0.30e-3 * area_ratio * small_wire, 5.0e-5 * area_ratio * area_ratio, 50};
    if (metal == material::Metal::aluminium)
        rate = {0.75e-3 * area_ratio, 0, 0};
    else if (metal == material::Metal::stainless)
        rate.beta_per_a2s *= 1.35;

    double form_factor = 1;
    if (form == material::WireForm::flux_gas_shielded || form == material::WireForm::metal_cored)
        form_factor = 1.3;
    else if (form == material::WireForm::flux_self_shielded)
        form_factor = 0.75;
    rate.alpha_m_per_as *= form_factor;
    rate.beta_per_a2s *= form_factor;
    return rate;
}

double electrode_extension_m(double tip_distance_m) { return std::max(tip_distance_m - 3e-3, 2e-3); }

} // namespace holdtrue::arc
