// Models of the bench: joint rules, dials, measuring.
#include "lesson/model_groups.h"
#include "part/iso_13920.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::lesson {
namespace {

using units::mm;

// Fillet metal grows with the square of the leg.
std::vector<double> fillet_metal(std::span<const double> in) {
    const double drawn_m = in[0], laid_m = in[1];
    return {laid_m * laid_m / (drawn_m * drawn_m), laid_m / std::numbers::sqrt2, laid_m * laid_m / 2};
}

// Backstep: the run number k starts at k steps from the end of the seam and is welded back to k - 1 steps.
std::vector<double> backstep(std::span<const double> in) {
    const double length_m = in[0], step_m = in[1], which = std::round(in[2]);
    const double start_m = std::min(length_m, which * step_m);
    return {start_m, std::max(0.0, std::min(length_m, (which - 1) * step_m)), std::ceil(length_m / step_m - 1e-9)};
}

// A frame of width a and height b whose top is pushed aside by s has diagonals with D1^2 - D2^2 = 4 a s.
std::vector<double> diagonals(std::span<const double> in) {
    const double width_m = in[0], height_m = in[1], difference_m = in[2];
    const double push_m = difference_m * std::hypot(width_m, height_m) / (2 * width_m);
    return {push_m, std::atan(push_m / height_m)};
}

// Heat leaves a tee by three sheets: the web one way, the flange two ways, each in proportion to its thickness as
// long as all are equally hot (Fourier's law).
std::vector<double> heat_share(std::span<const double> in) {
    const double web_m = in[0], flange_m = in[1];
    const double combined_m = web_m + 2 * flange_m;
    return {web_m / combined_m, 2 * flange_m / combined_m, combined_m};
}

// AISC 360 J2.3b (from memory): hole of thickness + 8 mm, rounded up to an even millimetre, to the larger of 3 mm above
// that and 2.25 times the thickness; centres four holes apart.
std::vector<double> plug_limits(std::span<const double> in) {
    const double thickness_m = in[0], hole_m = in[1];
    const double least_m = 2 * mm * std::ceil((thickness_m + 8 * mm) / (2 * mm) - 1e-9);
    return {least_m, std::max(least_m + 3 * mm, 2.25 * thickness_m), 4 * hole_m};
}

// AISC 360 table J2.4 and clause J2.2b: least leg by the thinner member, largest along an edge.
std::vector<double> fillet_limits(std::span<const double> in) {
    // A thickness on a bound belongs to the row below it, whatever its last bit says.
    const auto upto = [t = in[0]](double bound_m) { return t < bound_m + 1e-9; };
    const double least_m = upto(6 * mm) ? 3 * mm : upto(13 * mm) ? 5 * mm : upto(19 * mm) ? 6 * mm : 8 * mm;
    return {least_m, in[0] < 6 * mm ? in[0] : in[0] - 2 * mm};
}

// EN 1090-2:2018, 7.5.7 (from memory): the lesser of four times the thicker member and 50 mm.
std::vector<double> tack_limits(std::span<const double> in) { return {std::min(4 * in[0], 50 * mm)}; }

// ISO 5817:2014 table 1 (from memory), levels B, C and D: unequal legs by the throat, bulge of the face by its width.
std::vector<double> iso_5817_fillet(std::span<const double> in) {
    const double throat_m = in[0], width_m = in[1];
    return {1.5 * mm + 0.15 * throat_m,
            2 * mm + 0.15 * throat_m,
            2 * mm + 0.2 * throat_m,
            std::min(1 * mm + 0.1 * width_m, 3 * mm),
            std::min(1 * mm + 0.15 * width_m, 4 * mm),
            std::min(1 * mm + 0.25 * width_m, 5 * mm)};
}

std::vector<double> iso_13920(std::span<const double> in) {
    using namespace part::iso_13920;
    std::vector<double> limits;
    for (const char tolerance_class : {'A', 'B', 'C', 'D'})
        limits.push_back(linear_m(tolerance_class, in[0]).value());
    for (const char tolerance_class : {'E', 'F', 'G', 'H'})
        limits.push_back(straightness_m(tolerance_class, in[0]).value());
    return limits;
}

} // namespace

std::vector<Model> bench_models() {
    return {
        {"fillet_metal",
         "metal in a fillet that is laid bigger than drawn",
         "geometry",
         {{"drawn", "leg drawn", &units::length, 2 * mm, 15 * mm, 4 * mm},
          {"laid", "leg laid", &units::length, 2 * mm, 20 * mm, 5 * mm}},
         {{"metal", "metal against the drawing", &plain},
          {"throat", "throat", &units::length},
          {"area", "metal across the bead", &units::area}},
         fillet_metal},
        {"backstep",
         "where a backstep run starts and stops",
         "geometry",
         {{"length", "length of the seam", &units::length, 100 * mm, 3000 * mm, 600 * mm},
          {"step", "length of a step", &units::length, 20 * mm, 300 * mm, 100 * mm},
          {"which", "number of the run", &plain, 1, 30, 2}},
         {{"start", "start, from where the job begins", &units::length},
          {"stop", "stop", &units::length},
          {"count", "runs in all", &plain}},
         backstep},
        {"diagonals",
         "squareness from the diagonals",
         "Pythagoras",
         {{"width", "width", &units::length, 100 * mm, 4000 * mm, 800 * mm},
          {"height", "height", &units::length, 100 * mm, 4000 * mm, 600 * mm},
          {"difference", "difference of the diagonals", &units::length, 0, 40 * mm, 4 * mm}},
         {{"push", "corner out of place", &units::length}, {"angle", "out of square", &units::angle}},
         diagonals},
        {"heat_share",
         "where the heat goes in a tee",
         "Fourier's law; combined thickness as in EN 1011-2 method A (from memory)",
         {{"web", "web", &units::length, 1 * mm, 40 * mm, 3 * mm},
          {"flange", "flange", &units::length, 1 * mm, 40 * mm, 8 * mm}},
         {{"web_share", "share that the web carries off", &percentage},
          {"flange_share", "share that the flange carries off", &percentage},
          {"combined", "combined thickness", &units::length}},
         heat_share},
        {"plug_limits",
         "limits of a plug weld",
         "AISC 360 J2.3b (from memory)",
         {{"thickness", "sheet with the hole", &units::length, 1 * mm, 16 * mm, 3 * mm},
          {"hole", "hole", &units::length, 9 * mm, 30 * mm, 12 * mm}},
         {{"least", "least hole", &units::length},
          {"most", "largest hole", &units::length},
          {"spacing", "least distance of centres", &units::length}},
         plug_limits},
        {"fillet_limits",
         "limits of a fillet's leg",
         "AISC 360 table J2.4 and clause J2.2b (from memory)",
         {{"thickness", "thickness", &units::length, 3 * mm, 40 * mm, 6 * mm}},
         {{"least", "least leg", &units::length}, {"most", "largest leg along an edge", &units::length}},
         fillet_limits},
        {"tack_limits",
         "least length of a tack",
         "EN 1090-2:2018, 7.5.7 (from memory)",
         {{"thickness", "thicker member", &units::length, 1 * mm, 40 * mm, 3 * mm}},
         {{"least", "least length", &units::length}},
         tack_limits},
        {"iso_5817_fillet",
         "limits for the shape of a fillet",
         "ISO 5817:2014 table 1 (from memory)",
         {{"throat", "throat", &units::length, 1 * mm, 20 * mm, 3 * mm},
          {"width", "width of the face", &units::length, 1 * mm, 40 * mm, 6 * mm}},
         {{"legs_b", "difference of legs, level B", &units::length},
          {"legs_c", "difference of legs, level C", &units::length},
          {"legs_d", "difference of legs, level D", &units::length},
          {"convexity_b", "bulge, level B", &units::length},
          {"convexity_c", "bulge, level C", &units::length},
          {"convexity_d", "bulge, level D", &units::length}},
         iso_5817_fillet},
        {"iso_13920",
         "general tolerances",
         "ISO 13920:1996",
         {{"length", "length", &units::length, 30 * mm, 12000 * mm, 650 * mm}},
         {{"class_a", "length, class A", &units::length},
          {"class_b", "length, class B", &units::length},
          {"class_c", "length, class C", &units::length},
          {"class_d", "length, class D", &units::length},
          {"class_e", "straightness, class E", &units::length},
          {"class_f", "straightness, class F", &units::length},
          {"class_g", "straightness, class G", &units::length},
          {"class_h", "straightness, class H", &units::length}},
         iso_13920},
    };
}

} // namespace holdtrue::lesson
