// Models of shrinkage: closed forms for a beam and for single joints. The simulation computes these from the metal
// itself (distortion/); the forms here are what a welder can check on paper.
#include "distortion/bar_welds.h"
#include "distortion/shrinkage_rules.h"
#include "distortion/strip_model.h"
#include "lesson/model_groups.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::lesson {
namespace {

using units::celsius, units::mm;

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

// Lift of a tee's flange by its fillets: the rule's angle over the width.
std::vector<double> angular(std::span<const double> in) {
    distortion::PassOnMember flange;
    flange.leg_m = in[1];
    flange.thickness_m = in[2];
    return {in[0] * distortion::angle_rad(distortion::AngleRule::flange, flange)};
}

// Shrinkage across a butt by the two rules that bound the published ones; each member takes half.
std::vector<double> across(std::span<const double> in) {
    distortion::PassOnMember half;
    half.type = part::JointType::butt;
    half.deposit_area_m2 = in[0] / 2;
    half.thickness_m = in[1];
    half.root_gap_m = in[2];
    return {2 * distortion::across_m(distortion::AcrossRule::tenth, half),
            2 * distortion::across_m(distortion::AcrossRule::spraragen, half)};
}

// A flat bar welded along one edge and then along the other, from the same end, by the strips of the simulation: the
// second seam starts when the bar has cooled to a temperature.
std::vector<double> bar_two_edges(std::span<const double> in) {
    const distortion::StripMetal metal(distortion::YieldCurve::effective);
    const distortion::Bar bar{in[1], in[2], in[3], 275e6};
    const double inset_m = 5 * mm, travel_m_per_s = 6 * mm;
    distortion::BarWeld first, second;
    first.torch.at_m = inset_m;
    second.torch.at_m = bar.width_m - inset_m;
    for (distortion::BarWeld* weld : {&first, &second}) {
        weld->torch.heat_j_per_m = in[4];
        weld->torch.travel_m_per_s = travel_m_per_s;
        weld->interval_s = bar.length_m / travel_m_per_s;
    }
    second.wait_below_k = in[0];
    const std::array both{first, second};
    const double one_m = distortion::weld_bar(bar, std::span(both).first(1), metal).bow_m;
    const double two_m = distortion::weld_bar(bar, both, metal).bow_m;
    return {two_m, one_m, two_m / one_m};
}

// The pull of a bead in a plate that is already under even stress, by the strips of the simulation.
std::vector<double> prior_stress(std::span<const double> in) {
    const double yield_pa = 275e6, plate_m = 0.4, heat_j_per_m = in[1];
    const auto force_n = [&](double prior_pa) {
        const distortion::StripMetal metal(distortion::YieldCurve::effective);
        distortion::StripModel strips(distortion::plate_section(plate_m, in[2], yield_pa, {plate_m / 2}), metal, {},
                                      {true, prior_pa, 0}, in[3]);
        distortion::TorchPass torch;
        torch.at_m = plate_m / 2;
        torch.heat_j_per_m = heat_j_per_m;
        strips.weld(torch);
        strips.cool();
        return strips.result(plate_m / 2).tendon_force_n;
    };
    const double stressed_n = force_n(in[0] * yield_pa), free_n = force_n(0);
    return {stressed_n, stressed_n / free_n};
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
        {"bar_two_edges",
         "a bar welded along one edge, then along the other",
         "strip model of this program (EN 1993-1-2 curves; Okerblom 1958 and Tall 1964 for the method, from memory)",
         {{"wait_below", "second seam starts below", &units::temperature, celsius(30), celsius(300), celsius(60)},
          {"length", "length", &units::length, 200 * mm, 1500 * mm, 500 * mm},
          {"width", "width of the bar", &units::length, 50 * mm, 200 * mm, 80 * mm},
          {"thickness", "thickness", &units::length, 2 * mm, 6 * mm, 3 * mm},
          {"heat", "heat input of each seam", &heat_input, 0.08 * kj_per_mm, 0.25 * kj_per_mm, 0.15 * kj_per_mm}},
         {{"left", "bow left after both", &units::length},
          {"one", "bow after the first alone", &units::length},
          {"share", "left, as a share of the first", &percentage}},
         bar_two_edges,
         nullptr,
         15},
        {"prior_stress",
         "pull of a bead in a plate under stress",
         "strip model of this program (EN 1993-1-2 curves; Okerblom 1958 and Tall 1964 for the method, from memory)",
         {{"prior", "stress already there, of yield (tension positive)", &percentage, -0.6, 0.6, 0},
          {"heat", "heat input", &heat_input, 0.08 * kj_per_mm, 0.3 * kj_per_mm, 0.15 * kj_per_mm},
          {"thickness", "thickness", &units::length, 2 * mm, 6 * mm, 3 * mm},
          {"start", "temperature before the run", &units::temperature, celsius(20), celsius(100), celsius(20)}},
         {{"force", "pull of the bead", &force}, {"ratio", "against a plate without stress", &plain}},
         prior_stress,
         nullptr,
         15},
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
