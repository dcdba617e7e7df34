// Quantities as people read them, in the units of a workshop: metric or imperial.
#pragma once

#include "units/units.h"

#include <string>

namespace holdtrue::text {

enum class UnitSystem { metric, imperial };

// The dimension's unit in that system: metric is its first, imperial its last (time has no imperial one).
const units::Unit& unit_of(const units::Dimension& dimension, UnitSystem system);

// Three significant digits, never an exponent: "18.5", "252", "0.118", "1460".
std::string show_number(double value);
// With the unit: "3 mm", "0.118 in".
std::string show(double si, const units::Dimension& dimension, UnitSystem system);
std::string show_range(double low_si, double high_si, const units::Dimension& dimension, UnitSystem system);
// A difference of temperatures, which has no zero point: "40 °C".
std::string show_temperature_step(double kelvin, UnitSystem system);

} // namespace holdtrue::text
