// Models of shrinkage: closed forms for a beam and for single joints. The simulation computes these from the metal
// itself (distortion/); the forms here are what a welder can check on paper.
#include "lesson/model_groups.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::lesson {
namespace {

using units::inch, units::mm;

constexpr double young_pa = 210e9;         // EN 1993-1-2 at 20 C
constexpr double newton_per_j_per_m = 0.2; // tendon force per heat: White, Leggatt and Dwight c. 1980 (from memory)

// Rectangular hollow section about its horizontal axis.
struct Tube {
    double area_m2, inertia_m4;
};
Tube tube(double width_m, double depth_m, double wall_m) {
    const double inner_width = width_m - 2 * wall_m, inner_depth = depth_m - 2 * wall_m;
    const auto inertia = [](double w, double d) { return w * d * d * d / 12; };
    return {width_m * depth_m - inner_width * inner_depth,
            inertia(width_m, depth_m) - inertia(inner_width, inner_depth)};
}

// A seam along a tube pulls like a tight cord at its place: shortening F L / E A, bow F e L^2 / 8 E I.
// `other` is the heat of an equal seam on the opposite face. Holding the bowed tube straight at mid-length, on end
// supports, takes P = 6 M / L (from M L^2 / 8 E I = P L^3 / 48 E I).
std::vector<double> bow(std::span<const double> in) {
    const double heat = in[0], other = in[1], length_m = in[2];
    const double depth_m = in[4];
    const Tube section = tube(in[3], depth_m, in[5]);
    const double force_n = newton_per_j_per_m * heat, other_n = newton_per_j_per_m * other;
    const double moment = (force_n - other_n) * depth_m / 2;
    return {moment * length_m * length_m / (8 * young_pa * section.inertia_m4),
            (force_n + other_n) * length_m / (young_pa * section.area_m2), force_n, 6 * moment / length_m};
}

// Seams on two opposite faces, each laid in `runs` equal runs, the part turned after every `between` runs. The second
// face pulls `ratio` times as hard as the first, because of the stress that the first left. Runs add up (elastic
// superposition), so turning changes how far the part wanders on the way, and the ratio what is left.
std::vector<double> balance(std::span<const double> in) {
    const double ratio = in[0], runs = std::round(in[1]), between = std::clamp(std::round(in[2]), 1.0, runs);
    const std::vector<double> one = bow(std::array{in[3], 0.0, in[4], in[5], in[6], in[7]});
    const double full_m = one[0];
    double first = 0, second = 0, widest_m = 0;
    while (first + second < 2 * runs - 0.5) {
        first = std::min(runs, first + between);
        widest_m = std::max(widest_m, std::abs(full_m * (first - ratio * second) / runs));
        second = std::min(runs, second + between);
        widest_m = std::max(widest_m, std::abs(full_m * (first - ratio * second) / runs));
    }
    return {full_m * (1 - ratio), widest_m, full_m};
}

// Lift of a tee's flange by its fillets: delta = 0.02 W D^1.3 / T^2 in inches (O. W. Blodgett, Design of Welded
// Structures, 1966, from memory; whether the lift of one edge or of both together is not certain).
std::vector<double> angular(std::span<const double> in) {
    const double width = in[0] / inch, leg = in[1] / inch, thickness = in[2] / inch;
    const double lift_m = 0.02 * width * std::pow(leg, 1.3) / (thickness * thickness) * inch;
    return {lift_m};
}

// Shrinkage across a butt: 0.10 A/t (Blodgett) and 0.2 A/t + 0.05 d (Spraragen and Ettinger 1950), from memory.
// The published rules differ by a factor of about two: take them as the ends of a band.
std::vector<double> across(std::span<const double> in) {
    const double area_m2 = in[0], thickness_m = in[1], gap_m = in[2];
    return {0.10 * area_m2 / thickness_m, 0.2 * area_m2 / thickness_m + 0.05 * gap_m};
}

} // namespace

std::vector<Model> pull_models() {
    const double kj_per_mm = 1e6;
    const Input heat{"heat", "heat input of the seam", &heat_input, 0.05 * kj_per_mm, 2 * kj_per_mm, 0.3 * kj_per_mm};
    const Input length{"length", "length", &units::length, 100 * mm, 6000 * mm, 1000 * mm};
    const Input width{"width", "width of the tube", &units::length, 30 * mm, 300 * mm, 80 * mm};
    const Input depth{"depth", "depth of the tube", &units::length, 30 * mm, 300 * mm, 80 * mm};
    const Input wall{"wall", "wall", &units::length, 1.5 * mm, 12 * mm, 3 * mm};
    return {
        {"bow",
         "bow of a tube from seams along it",
         "tendon force 0.2 N per J/m, White, Leggatt and Dwight c. 1980 (from memory); beam theory",
         {heat,
          {"other", "heat input of the seam on the opposite face", &heat_input, 0, 2 * kj_per_mm, 0},
          length,
          width,
          depth,
          wall},
         {{"bow", "bow", &units::length},
          {"shortening", "shortening", &units::length},
          {"force", "pull of the seam", &force},
          {"hold", "force that holds it straight at mid-length", &force}},
         bow},
        {"balance",
         "seams on two faces, run by run",
         "tendon force and beam theory; runs add up",
         {{"ratio", "pull of the second face against the first", &plain, 0.3, 1, 0.8},
          {"runs", "runs on each face", &plain, 1, 20, 6},
          {"between", "runs between turns", &plain, 1, 20, 6},
          heat,
          length,
          width,
          depth,
          wall},
         {{"left", "bow left", &units::length},
          {"widest", "largest bow on the way", &units::length},
          {"one_side", "bow if only one face were welded", &units::length}},
         balance},
        {"angular",
         "flange of a tee lifted by its fillets",
         "O. W. Blodgett, Design of Welded Structures, 1966 (from memory)",
         {{"width", "width of the flange", &units::length, 30 * mm, 400 * mm, 100 * mm},
          {"leg", "leg of the fillets", &units::length, 2 * mm, 12 * mm, 5 * mm},
          {"thickness", "thickness of the flange", &units::length, 3 * mm, 25 * mm, 6 * mm}},
         {{"lift", "lift of the edge", &units::length}},
         angular},
        {"across",
         "shrinkage across a butt",
         "Blodgett 1966; Spraragen and Ettinger 1950 (from memory)",
         {{"area", "metal across the weld", &units::area, 5 * mm * mm, 200 * mm * mm, 30 * mm * mm},
          {"thickness", "thickness", &units::length, 2 * mm, 25 * mm, 6 * mm},
          {"gap", "root gap", &units::length, 0, 5 * mm, 2 * mm}},
         {{"low", "shrinkage, lower rule", &units::length}, {"high", "shrinkage, upper rule", &units::length}},
         across},
    };
}

} // namespace holdtrue::lesson
