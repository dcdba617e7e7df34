#include "material/steel.h"
#include "material/thermal_material.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdtrue;
using namespace holdtrue::material;
using doctest::Approx;
using units::celsius;

namespace {

struct Row {
    double t_c, conductivity, specific_heat, elongation_per_mille;
};

// 0.2 % proof stress of the stress-strain curve of EN 1993-1-2 Figure 3.1 (elastic, then an ellipse up to 2 %).
double proof_from_curve(double yield_20_pa, double temperature_k) {
    const double fy = steel_yield_factor(temperature_k) * yield_20_pa;
    const double fp = steel_proportional_factor(temperature_k) * yield_20_pa;
    const double e = steel_modulus_factor(temperature_k) * steel_modulus_20c_pa;
    const double ep = fp / e, ey = 0.02;
    const double c = (fy - fp) * (fy - fp) / ((ey - ep) * e - 2 * (fy - fp));
    const double a = std::sqrt((ey - ep) * (ey - ep + c / e));
    const double b = std::sqrt(c * (ey - ep) * e + c * c);
    double low = ep, high = ey; // the offset line meets the curve between these
    for (int k = 0; k < 100; ++k) {
        const double strain = 0.5 * (low + high);
        const double stress = fp - c + b / a * std::sqrt(a * a - (ey - strain) * (ey - strain));
        (stress > e * (strain - 0.002) ? low : high) = strain;
    }
    return e * (low - 0.002) / yield_20_pa;
}

} // namespace

TEST_CASE("conductivity, specific heat and elongation meet EN 1993-1-2 cl. 3.4.1") {
    // Formulas of the code evaluated by hand; the code itself prints 5000 J/kgK at 735 C.
    const Row rows[] = {{20, 53.33, 439.8, 0},        {100, 50.67, 487.6, 0.998},   {200, 47.34, 529.8, 2.318},
                        {300, 44.01, 564.7, 3.718},   {500, 37.35, 666.5, 6.758},   {600, 34.02, 760.2, 8.398},
                        {700, 30.69, 1008.2, 10.118}, {735, 29.52, 5000.0, 10.739}, {750, 29.02, 1482.9, 11.0},
                        {800, 27.3, 803.3, 11.0},     {900, 27.3, 650, 11.8},       {1000, 27.3, 650, 13.8},
                        {1200, 27.3, 650, 17.8}};
    for (const Row& row : rows) {
        CAPTURE(row.t_c);
        CHECK(steel_conductivity_w_per_mk(celsius(row.t_c)) == Approx(row.conductivity).epsilon(3e-4));
        CHECK(steel_specific_heat_j_per_kgk(celsius(row.t_c)) == Approx(row.specific_heat).epsilon(2e-4));
        CHECK(1000 * steel_elongation(celsius(row.t_c)) == Approx(row.elongation_per_mille).epsilon(1e-3));
    }
}

TEST_CASE("elongation is flat and continuous through the transformation, EN 1993-1-2 cl. 3.4.1.1") {
    // The code's own rounding leaves a step of 8e-6 at 750 C.
    for (const double t_c : {750.0, 860.0})
        CHECK(steel_elongation(celsius(t_c - 1e-6)) == Approx(steel_elongation(celsius(t_c + 1e-6))).epsilon(1e-3));
    CHECK(steel_elongation(celsius(800)) == 0.011);
}

TEST_CASE("reduction factors meet EN 1993-1-2 Table 3.1 and lie on straight lines between") {
    CHECK(steel_yield_factor(celsius(400)) == 1);
    CHECK(steel_yield_factor(celsius(600)) == Approx(0.47));
    CHECK(steel_yield_factor(celsius(550)) == Approx(0.625));
    CHECK(steel_yield_factor(celsius(650)) == Approx(0.35));
    CHECK(steel_modulus_factor(celsius(550)) == Approx(0.455));
    CHECK(steel_modulus_factor(celsius(650)) == Approx(0.22));
    CHECK(steel_proportional_factor(celsius(300)) == Approx(0.613));
    CHECK(steel_proportional_factor(celsius(900)) == Approx(0.0375));
    CHECK(steel_yield_factor(celsius(1200)) == 0);
    CHECK(steel_modulus_factor(celsius(5000)) == 0);
    CHECK(steel_proof_factor(celsius(-40)) == 1);
}

TEST_CASE("the 0.2 % proof factors agree with the stress-strain curve of EN 1993-1-2 Figure 3.1") {
    // Table E.1 is one column for all grades; the curve's own proof stress depends a little on the grade.
    for (int t_c = 200; t_c <= 1100; t_c += 100) {
        CAPTURE(t_c);
        const double s235 = proof_from_curve(235e6, celsius(t_c)), s355 = proof_from_curve(355e6, celsius(t_c));
        CHECK(std::abs(steel_proof_factor(celsius(t_c)) - 0.5 * (s235 + s355)) < 0.05);
    }
}

TEST_CASE("heat content counts the 735 C peak whole") {
    // EN 1993-1-2 cl. 3.4.1.2 integrated in closed form by hand.
    const auto between = [](double from_c, double to_c) {
        return steel_heat_content_j_per_kg(celsius(to_c)) - steel_heat_content_j_per_kg(celsius(from_c));
    };
    CHECK(between(20, 600) == Approx(335.7e3).epsilon(2e-4));
    CHECK(between(20, 735) == Approx(475.4e3).epsilon(2e-4));
    CHECK(between(20, 1200) == Approx(827.1e3).epsilon(2e-4));
    // About 10 J/mm^3 to melt steel: a figure of the welding textbooks, from memory.
    CHECK(7850 * between(20, 1520) == Approx(10e9).epsilon(0.03));

    // Against numerical integration of the specific heat, midpoint rule.
    double sum = 0;
    const int n = 118000;
    for (int k = 0; k < n; ++k)
        sum += steel_specific_heat_j_per_kgk(celsius(20 + (k + 0.5) * 0.01)) * 0.01;
    CHECK(between(20, 1200) == Approx(sum).epsilon(1e-6));
}

TEST_CASE("Kirchhoff transform is the integral of the conductivity") {
    double sum = 0;
    for (int k = 0; k < 15000; ++k)
        sum += steel_conductivity_w_per_mk(celsius(20 + (k + 0.5) * 0.1)) * 0.1;
    CHECK(steel_kirchhoff_w_per_m(celsius(1520)) == Approx(sum).epsilon(1e-7));
    CHECK(steel_kirchhoff_w_per_m(celsius(20)) == 0);
}

TEST_CASE("temperature is the inverse of enthalpy") {
    ConstantProperties melting;
    melting.latent_heat_j_per_kg = 270e3;
    for (const ThermalMaterial& material : {ThermalMaterial::steel(), ThermalMaterial::constant(melting)})
        for (double t_c = -200; t_c < 3500; t_c += 0.37) {
            const double back = material.temperature_k(material.enthalpy_j_per_m3(celsius(t_c)));
            if (std::abs(back - celsius(t_c)) > 1e-8) {
                CAPTURE(t_c);
                CHECK(back == Approx(celsius(t_c)).epsilon(1e-11));
            }
        }
    CHECK(ThermalMaterial::steel().temperature_k(0) == Approx(celsius(20)));
}
