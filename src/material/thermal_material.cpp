#include "material/thermal_material.h"

#include "material/steel.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::material {
namespace {

constexpr double reference_k = units::celsius(20);

} // namespace

ThermalMaterial ThermalMaterial::steel() { return {}; }

ThermalMaterial ThermalMaterial::constant(const ConstantProperties& properties) {
    VERIFY(properties.conductivity_w_per_mk > 0 && properties.density_kg_per_m3 > 0 &&
               properties.specific_heat_j_per_kgk > 0 && properties.latent_heat_j_per_kg >= 0 &&
               properties.solidus_k < properties.liquidus_k,
           "constant thermal properties out of range");
    ThermalMaterial material;
    material.constant_ = properties;
    return material;
}

double ThermalMaterial::enthalpy_j_per_m3(double temperature_k) const {
    if (!constant_)
        return steel_density_kg_per_m3 * steel_heat_content_j_per_kg(temperature_k);
    const ConstantProperties& p = *constant_;
    const double molten = std::clamp((temperature_k - p.solidus_k) / (p.liquidus_k - p.solidus_k), 0.0, 1.0);
    return p.density_kg_per_m3 *
           (p.specific_heat_j_per_kgk * (temperature_k - reference_k) + p.latent_heat_j_per_kg * molten);
}

double ThermalMaterial::heat_capacity_j_per_m3k(double temperature_k) const {
    const auto with_latent = [&](double c, double latent, double solidus_k, double liquidus_k) {
        const bool melting = temperature_k > solidus_k && temperature_k < liquidus_k;
        return c + (melting ? latent / (liquidus_k - solidus_k) : 0.0);
    };
    if (!constant_)
        return steel_density_kg_per_m3 * with_latent(steel_specific_heat_j_per_kgk(temperature_k),
                                                     steel_latent_heat_j_per_kg, steel_solidus_k, steel_liquidus_k);
    const ConstantProperties& p = *constant_;
    return p.density_kg_per_m3 *
           with_latent(p.specific_heat_j_per_kgk, p.latent_heat_j_per_kg, p.solidus_k, p.liquidus_k);
}

double ThermalMaterial::temperature_k(double enthalpy_j_per_m3) const {
    // Newton kept inside a bracket: the heat capacity jumps at the ends of the melting range and peaks at 735 C.
    double low = -1e5, high = 1e6;
    double t = reference_k + enthalpy_j_per_m3 / heat_capacity_j_per_m3k(reference_k);
    for (int iteration = 0; iteration < 200; ++iteration) {
        if (!(t > low && t < high))
            t = 0.5 * (low + high);
        const double excess = this->enthalpy_j_per_m3(t) - enthalpy_j_per_m3;
        (excess > 0 ? high : low) = t;
        const double next = t - excess / heat_capacity_j_per_m3k(t);
        if (std::abs(next - t) <= 1e-13 * std::abs(t))
            return next;
        t = next;
    }
    return t;
}

double ThermalMaterial::kirchhoff_w_per_m(double temperature_k) const {
    return constant_ ? constant_->conductivity_w_per_mk * (temperature_k - reference_k)
                     : steel_kirchhoff_w_per_m(temperature_k);
}

double ThermalMaterial::conductivity_w_per_mk(double temperature_k) const {
    return constant_ ? constant_->conductivity_w_per_mk : steel_conductivity_w_per_mk(temperature_k);
}

} // namespace holdtrue::material
