// Models of heat in the plate: how hot, how far, how fast it cools.
#include "arc/cooling_time.h"
#include "arc/moving_source.h"
#include "arc/preheat.h"
#include "lesson/model_groups.h"
#include "material/steel_grade.h"
#include "text/verify.h"

#include <cmath>
#include <optional>

namespace holdtrue::lesson {
namespace {

using units::celsius, units::mm;

// The highest rise beside the path of a line source in a thin plate, found along the line at that distance. It comes
// after the torch has passed and has one hump, so golden-section search is safe.
double peak_rise_k(const arc::PlateProperties& steel, double power_w, double travel_m_per_s, double thickness_m,
                   double aside_m) {
    const auto rise = [&](double behind_m) {
        return arc::thin_plate_rise_k(steel, power_w, travel_m_per_s, thickness_m, -behind_m, aside_m);
    };
    constexpr double golden = 0.6180339887498949;
    // A fast source peaks v y^2 / 2a behind, a slower one nearer.
    double low = 0, high = aside_m + travel_m_per_s * aside_m * aside_m / (2 * steel.diffusivity_m2_per_s());
    for (int k = 0; k < 60; ++k) {
        const double a = high - golden * (high - low), b = low + golden * (high - low);
        const bool first = rise(a) > rise(b);
        (first ? high : low) = first ? b : a;
    }
    return rise((low + high) / 2);
}

std::vector<double> plate_peak(std::span<const double> in) {
    const double power_w = in[0], travel = in[1], thickness_m = in[2], distance_m = in[3], start_k = in[4];
    const arc::PlateProperties steel = arc::mean_properties(material::Metal::mild_steel);
    return {start_k + peak_rise_k(steel, power_w, travel, thickness_m, distance_m),
            2 * arc::thin_plate_half_width_m(steel, power_w, travel, thickness_m, celsius(500) - start_k)};
}

// EN 1011-2 annex D for a single-run fillet of a tee, by arc/.
std::vector<double> cooling_time(std::span<const double> in) {
    const arc::CoolingTime time = arc::cooling_time(in[0], in[2], in[1], arc::joint_factors(part::JointType::fillet));
    return {time.seconds(), time.transition_m};
}

// Method B of EN 1011-2, and the AWS table, by arc/.
std::vector<double> preheat(std::span<const double> in) {
    const double cet = in[0], thickness_m = in[1], hydrogen = in[2], heat_j_per_m = in[3];
    const std::optional<double> method_b = arc::preheat_method_b_k(cet, thickness_m, hydrogen, heat_j_per_m);
    VERIFY(method_b, "the ranges of the inputs are those of the formula");
    return {*method_b, arc::preheat_aws_k(thickness_m)};
}

std::vector<double> carbon_equivalent(std::span<const double> in) {
    const material::Analysis steel{.c = in[0], .mn = in[1], .cr = in[2], .mo = in[3], .ni = in[4], .cu = in[5]};
    return {material::carbon_equivalent_iiw(steel), material::carbon_equivalent_cet(steel)};
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
         "Rosenthal 1941, thin plate; mean properties of steel from EN 1993-1-2",
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
        {"cooling_time",
         "time from 800 to 500 °C beside a fillet",
         "EN 1011-2:2001 annex D (from memory)",
         {{"heat", "heat input", &heat_input, 0.2e6, 5e6, 1e6},
          {"thickness", "thickness", &units::length, 2 * mm, 60 * mm, 10 * mm},
          {"start", "temperature before the run", &units::temperature, celsius(-10), celsius(250), celsius(20)}},
         {{"time", "time from 800 to 500 °C", &units::time},
          {"transition", "thickness from which a plate counts as thick", &units::length}},
         cooling_time},
        {"preheat",
         "preheat",
         "EN 1011-2:2001 method B, AWS D1.1 (from memory)",
         {{"cet", "CET of the steel in percent", &plain, 0.2, 0.5, 0.3},
          {"thickness", "thickness", &units::length, 10 * mm, 90 * mm, 20 * mm},
          {"hydrogen", "hydrogen in ml/100 g", &plain, 1, 20, 5},
          {"heat", "heat input", &heat_input, 0.5e6, 4e6, 1e6}},
         {{"temperature", "preheat by method B", &units::temperature},
          {"table", "preheat by the AWS table", &units::temperature}},
         preheat},
        {"carbon_equivalent",
         "carbon equivalent of a steel",
         "International Institute of Welding; EN 1011-2 (from memory)",
         {{"carbon", "carbon", &plain, 0, 0.5, 0.12},
          {"manganese", "manganese", &plain, 0, 2, 0.6},
          {"chromium", "chromium", &plain, 0, 2, 0},
          {"molybdenum", "molybdenum", &plain, 0, 1, 0},
          {"nickel", "nickel", &plain, 0, 2, 0},
          {"copper", "copper", &plain, 0, 1, 0}},
         {{"ce", "CE (IIW), percent", &plain}, {"cet", "CET, percent", &plain}},
         carbon_equivalent},
    };
}

} // namespace holdtrue::lesson
