// Models of the bench: joint rules, dials, measuring.
#include "lesson/model_groups.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::lesson {
namespace {

using std::numbers::pi;
using units::minute, units::mm;

// Fillet metal grows with the square of the leg.
std::vector<double> fillet_metal(std::span<const double> in) {
    const double drawn_m = in[0], laid_m = in[1];
    return {laid_m * laid_m / (drawn_m * drawn_m), laid_m / std::numbers::sqrt2, laid_m * laid_m / 2};
}

// A wire fills a plug hole through a sheet: volume over feed, 95 % of the wire stays.
std::vector<double> plug_fill(std::span<const double> in) {
    const double hole_m = in[0], thickness_m = in[1], wire_m = in[2], feed_m_per_s = in[3];
    const double volume_m3 = pi / 4 * hole_m * hole_m * thickness_m;
    return {volume_m3 / (0.95 * pi / 4 * wire_m * wire_m * feed_m_per_s)};
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

// Runs that a fillet takes when each leaves the same metal.
std::vector<double> runs_needed(std::span<const double> in) {
    const double leg_m = in[0], wire_m = in[1], feed_m_per_s = in[2], travel_m_per_s = in[3];
    const double run_m2 = 0.95 * pi / 4 * wire_m * wire_m * feed_m_per_s / travel_m_per_s;
    const double need_m2 = leg_m * leg_m / 2;
    return {std::ceil(need_m2 / run_m2 - 1e-9), need_m2, run_m2};
}

} // namespace

std::vector<Model> bench_models() {
    const Input wire{"diameter", "wire diameter", &units::length, 0.6 * mm, 1.6 * mm, 0.8 * mm};
    const Input feed{"feed", "wire feed speed", &units::wire_feed, 1 / minute, 16 / minute, 6 / minute};
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
        {"plug_fill",
         "time to fill a plug hole",
         "metal balance, 95 % of the wire stays",
         {{"hole", "hole", &units::length, 5 * mm, 30 * mm, 12 * mm},
          {"thickness", "sheet with the hole", &units::length, 1 * mm, 12 * mm, 3 * mm},
          wire,
          feed},
         {{"time", "arc time in the hole", &units::time}},
         plug_fill},
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
        {"runs_needed",
         "runs that a fillet takes",
         "metal balance, 95 % of the wire stays",
         {{"leg", "leg", &units::length, 2 * mm, 15 * mm, 6 * mm},
          wire,
          feed,
          {"travel", "travel speed", &units::travel, 1.5 * mm, 15 * mm, 5 * mm, 1}},
         {{"runs", "runs", &plain}, {"need", "metal needed", &units::area}, {"each", "metal of one run", &units::area}},
         runs_needed},
    };
}

} // namespace holdtrue::lesson
