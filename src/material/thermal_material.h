// What heat conduction needs to know of a metal, with the enthalpy per volume as the unknown:
//   h(T) = rho int c dT + latent heat   [J/m^3]     and its inverse T(h)
//   theta(T) = int k dT                 [W/m]       Kirchhoff transform, so that div(k grad T) = div(grad theta)
// Both integrals start at 20 C. h(T) is strictly increasing and inverted to the last bits of a double.
#pragma once

#include "units/units.h"

#include <optional>

namespace holdtrue::material {

// Constant properties, with an optional melting range; for benchmarks with closed solutions.
struct ConstantProperties {
    double conductivity_w_per_mk = 50;
    double density_kg_per_m3 = 7850;
    double specific_heat_j_per_kgk = 500;
    double latent_heat_j_per_kg = 0;
    double solidus_k = units::celsius(1460), liquidus_k = units::celsius(1520); // solidus < liquidus
};

class ThermalMaterial {
public:
    static ThermalMaterial steel(); // material/steel.h
    static ThermalMaterial constant(const ConstantProperties& properties);

    double enthalpy_j_per_m3(double temperature_k) const;
    double temperature_k(double enthalpy_j_per_m3) const;
    double kirchhoff_w_per_m(double temperature_k) const;
    double conductivity_w_per_mk(double temperature_k) const;

private:
    ThermalMaterial() = default;
    double heat_capacity_j_per_m3k(double temperature_k) const; // dh/dT
    std::optional<ConstantProperties> constant_;                // none: steel
};

} // namespace holdtrue::material
