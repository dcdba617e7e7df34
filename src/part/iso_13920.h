// General tolerances for welded constructions, ISO 13920:1996 Tables 1 to 3.
// Linear dimensions and angles have classes A (fine) to D, straightness and flatness classes E to H.
#pragma once

#include <optional>

namespace holdtrue::part::iso_13920 {

// Allowed deviation each side [m]. Nominal 2 mm and more. Empty: no such class, or too short for the table.
std::optional<double> linear_m(char tolerance_class, double nominal_m);
// Allowed deviation each side [rad], by the length of the shorter leg.
std::optional<double> angular_rad(char tolerance_class, double shorter_leg_m);
// Allowed deviation [m] from straight or flat over a length of 30 mm and more.
std::optional<double> straightness_m(char tolerance_class, double length_m);

} // namespace holdtrue::part::iso_13920
