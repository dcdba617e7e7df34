// Models of heat in the plate: how hot, how far, how fast it cools.
#include "lesson/model_groups.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::lesson {
namespace {

using units::celsius, units::mm;

// Rosenthal's thin plate (D. Rosenthal, Welding Journal 20, 1941): a line source q moving at v through a plate of
// thickness h, quasi-steady, no surface loss, constant properties,
//   T - T0 = q/(2 pi k h) exp(-v xi/2a) K0(v r/2a).
constexpr double conductivity = 41, density_times_heat = 4.71e6; // [W/(m K)], [J/(m^3 K)], steel, mean when hot
constexpr double diffusivity = conductivity / density_times_heat;

// K0(x) exp(x), which neither over- nor underflows; beyond 100 by its asymptotic series (Abramowitz and Stegun 9.7.2).
double scaled_bessel_k0(double x) {
    if (x < 100)
        return std::cyl_bessel_k(0.0, x) * std::exp(x);
    return std::sqrt(std::numbers::pi / (2 * x)) * (1 - 1 / (8 * x) + 9 / (128 * x * x));
}

double rise_k(double power_w, double travel_m_per_s, double thickness_m, double behind_m, double aside_m) {
    const double r = std::hypot(behind_m, aside_m);
    const double p = travel_m_per_s / (2 * diffusivity);
    const double excess_m = aside_m * aside_m / (r + behind_m); // r - behind, without cancellation; behind >= 0
    return power_w / (2 * std::numbers::pi * conductivity * thickness_m) * std::exp(-p * excess_m) *
           scaled_bessel_k0(p * r);
}

// The hottest that a point beside the path gets, found along the line at that distance. The maximum lies behind the
// torch and the function has one hump there, so golden-section search is safe.
double peak_rise_k(double power_w, double travel_m_per_s, double thickness_m, double aside_m) {
    const auto rise = [&](double behind_m) { return rise_k(power_w, travel_m_per_s, thickness_m, behind_m, aside_m); };
    constexpr double golden = 0.6180339887498949;
    // Behind the torch the line-source limit peaks at v y^2 / 2a, and the true place is nearer.
    double low = 0, high = aside_m + travel_m_per_s * aside_m * aside_m / (2 * diffusivity);
    for (int k = 0; k < 60; ++k) {
        const double a = high - golden * (high - low), b = low + golden * (high - low);
        (rise(a) > rise(b) ? high : low) = rise(a) > rise(b) ? b : a;
    }
    return rise((low + high) / 2);
}

std::vector<double> plate_peak(std::span<const double> in) {
    const double power_w = in[0], travel = in[1], thickness_m = in[2], distance_m = in[3], start_k = in[4];
    // Half-width of the zone above 500 C: the peak falls steadily with distance, so bisection finds it.
    double near = 0.2 * mm, far = 0.5;
    for (int k = 0; k < 50; ++k) {
        const double middle = (near + far) / 2;
        (start_k + peak_rise_k(power_w, travel, thickness_m, middle) > celsius(500) ? near : far) = middle;
    }
    return {start_k + peak_rise_k(power_w, travel, thickness_m, distance_m), 2 * near};
}

// A part that cools evenly from both faces: rho c t dT/dt = -2 h (T - ambient) at 20 C. h = 25 W/(m^2 K) holds both
// convection and radiation at moderate temperatures (common practice, no source).
std::vector<double> cool_down(std::span<const double> in) {
    const double thickness_m = in[0], from_k = in[1], to_k = in[2], h = in[3];
    const double time_constant_s = 7850 * 500 * thickness_m / (2 * h);
    const double ambient_k = celsius(20);
    return {time_constant_s * std::log((from_k - ambient_k) / (to_k - ambient_k)), time_constant_s};
}

} // namespace

std::vector<Model> heat_models() {
    return {
        {"plate_peak",
         "how hot a plate gets beside the seam",
         "Rosenthal 1941, thin plate, 41 W/(m K), 4.71 MJ/(m³ K)",
         {{"power", "power into the metal", &power, 400, 6000, 1700},
          {"travel", "travel speed", &units::travel, 2 * mm, 15 * mm, 5 * mm, 1},
          {"thickness", "thickness", &units::length, 1 * mm, 8 * mm, 3 * mm},
          {"distance", "distance from the seam", &units::length, 2 * mm, 80 * mm, 10 * mm},
          {"start", "temperature before the run", &units::temperature, celsius(-10), celsius(250), celsius(20)}},
         {{"peak", "hottest it gets there", &units::temperature},
          {"width_500", "width of the zone above 500 °C", &units::length}},
         plate_peak},
        {"cool_down",
         "time to cool evenly in still air",
         "lumped cooling from both faces; 25 W/(m² K) is common practice, no source",
         {{"thickness", "thickness", &units::length, 1 * mm, 40 * mm, 3 * mm},
          {"from", "even temperature at the start", &units::temperature, celsius(60), celsius(600), celsius(250)},
          {"to", "temperature to wait for", &units::temperature, celsius(30), celsius(59), celsius(50)},
          {"film", "heat taken by each face, W/(m² K)", &plain, 5, 100, 25}},
         {{"time", "time to wait", &duration}, {"time_constant", "time constant", &duration}},
         cool_down},
    };
}

} // namespace holdtrue::lesson
