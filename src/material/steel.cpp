#include "material/steel.h"

#include "units/portable_math.h"

#include <algorithm>
#include <array>

namespace holdtrue::material {
namespace {

using Column = std::array<double, 12>; // at 100, 200, ... 1200 C; up to 100 C every factor is 1

// EN 1993-1-2 Table 3.1; the proof strength from Table E.1, hot rolled and welded sections.
constexpr Column yield{1, 1, 1, 1, 0.78, 0.47, 0.23, 0.11, 0.06, 0.04, 0.02, 0};
constexpr Column proof{1, 0.89, 0.78, 0.65, 0.53, 0.30, 0.13, 0.07, 0.05, 0.03, 0.02, 0};
constexpr Column proportional{1, 0.807, 0.613, 0.420, 0.360, 0.180, 0.075, 0.050, 0.0375, 0.025, 0.0125, 0};
constexpr Column modulus{1, 0.90, 0.80, 0.70, 0.60, 0.31, 0.13, 0.09, 0.0675, 0.045, 0.0225, 0};

double interpolate(const Column& column, double temperature_k) {
    const double hundreds = units::to_celsius(temperature_k) / 100 - 1; // position in the column
    if (hundreds <= 0)
        return column.front();
    if (hundreds >= 11)
        return column.back();
    const auto row = static_cast<std::size_t>(hundreds);
    const double part = hundreds - static_cast<double>(row);
    return column[row] * (1 - part) + column[row + 1] * part;
}

// Antiderivatives of the specific heat's pieces [J/kg], T in C.
double below_600(double t) { return t * (425 + t * (0.773 / 2 + t * (-1.69e-3 / 3 + t * 2.22e-6 / 4))); }
double below_735(double t) { return 666 * t - 13002 * units::portable_log(738 - t); }
double below_900(double t) { return 545 * t + 17820 * units::portable_log(t - 731); }

double below_20_slope() { return steel_specific_heat_j_per_kgk(units::celsius(20)); }

} // namespace

double steel_conductivity_w_per_mk(double temperature_k) {
    const double t = std::max(20.0, units::to_celsius(temperature_k));
    return t < 800 ? 54 - 3.33e-2 * t : 27.3;
}

double steel_specific_heat_j_per_kgk(double temperature_k) {
    const double t = std::max(20.0, units::to_celsius(temperature_k));
    if (t < 600)
        return 425 + t * (0.773 + t * (-1.69e-3 + t * 2.22e-6));
    if (t < 735)
        return 666 + 13002 / (738 - t);
    if (t < 900)
        return 545 + 17820 / (t - 731);
    return 650;
}

double steel_elongation(double temperature_k) {
    const double t = units::to_celsius(std::min(temperature_k, steel_solidus_k));
    if (t < 20)
        return (1.2e-5 + 2 * 0.4e-8 * 20) * (t - 20);
    if (t < 750)
        return 1.2e-5 * t + 0.4e-8 * t * t - 2.416e-4;
    if (t <= 860)
        return 1.1e-2;
    return 2e-5 * t - 6.2e-3;
}

double steel_yield_factor(double temperature_k) { return interpolate(yield, temperature_k); }
double steel_proof_factor(double temperature_k) { return interpolate(proof, temperature_k); }
double steel_proportional_factor(double temperature_k) { return interpolate(proportional, temperature_k); }
double steel_modulus_factor(double temperature_k) { return interpolate(modulus, temperature_k); }

double steel_heat_content_j_per_kg(double temperature_k) {
    const double t = units::to_celsius(temperature_k);
    if (t <= 20)
        return below_20_slope() * (t - 20);
    double content = below_600(std::min(t, 600.0)) - below_600(20);
    if (t > 600)
        content += below_735(std::min(t, 735.0)) - below_735(600);
    if (t > 735)
        content += below_900(std::min(t, 900.0)) - below_900(735);
    if (t > 900)
        content += 650 * (t - 900);
    const double molten = (temperature_k - steel_solidus_k) / (steel_liquidus_k - steel_solidus_k);
    return content + steel_latent_heat_j_per_kg * std::clamp(molten, 0.0, 1.0);
}

double steel_kirchhoff_w_per_m(double temperature_k) {
    const double t = units::to_celsius(temperature_k);
    if (t <= 20)
        return steel_conductivity_w_per_mk(temperature_k) * (t - 20);
    const auto antiderivative = [](double c) { return c * (54 - 3.33e-2 / 2 * c); };
    return antiderivative(std::min(t, 800.0)) - antiderivative(20) + (t > 800 ? 27.3 * (t - 800) : 0.0);
}

} // namespace holdtrue::material
