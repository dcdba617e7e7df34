#include "distortion/strip_metal.h"

#include "material/steel.h"

#include <algorithm>

namespace holdtrue::distortion {
namespace {

constexpr double lowest_k = 200, highest_k = 4000, step_k = 1; // straight on beyond

} // namespace

StripMetal::StripMetal(YieldCurve curve) : curve_(curve) {
    using namespace material;
    for (double t = lowest_k; t <= highest_k; t += step_k)
        rows_.push_back({curve == YieldCurve::proof ? steel_proof_factor(t) : steel_yield_factor(t),
                         steel_modulus_20c_pa * steel_modulus_factor(t), steel_elongation(t),
                         steel_density_kg_per_m3 * steel_heat_content_j_per_kg(t), steel_kirchhoff_w_per_m(t)});
}

StripMetal::Mechanical StripMetal::mechanical(double temperature_k) const {
    const double place = std::clamp((temperature_k - lowest_k) / step_k, 0.0, static_cast<double>(rows_.size() - 2));
    const auto row = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(row);
    const Row &a = rows_[row], &b = rows_[row + 1];
    return {a.yield_ratio + part * (b.yield_ratio - a.yield_ratio), a.modulus_pa + part * (b.modulus_pa - a.modulus_pa),
            a.expansion + part * (b.expansion - a.expansion)};
}

StripMetal::Thermal StripMetal::thermal(double temperature_k) const {
    const double place = (temperature_k - lowest_k) / step_k;
    const auto row = static_cast<std::size_t>(std::clamp(place, 0.0, static_cast<double>(rows_.size() - 2)));
    const double beyond_k = (place - static_cast<double>(row)) * step_k;
    const Row &a = rows_[row], &b = rows_[row + 1];
    const double capacity = (b.enthalpy_j_per_m3 - a.enthalpy_j_per_m3) / step_k;
    const double conductivity = (b.kirchhoff_w_per_m - a.kirchhoff_w_per_m) / step_k;
    return {a.enthalpy_j_per_m3 + beyond_k * capacity, capacity, a.kirchhoff_w_per_m + beyond_k * conductivity,
            conductivity};
}

} // namespace holdtrue::distortion
