// In which unit a field of the window is typed; everything that is only read is written by units/quantity_text.h.
#pragma once

#include "units/quantity_text.h"
#include "units/units.h"

#include <string>

namespace holdtrue::app {

// The unit in which a kind of quantity is typed, and with how many decimals.
struct ShownUnit {
    units::Unit unit;
    int decimals = 0;
};
ShownUnit shown(const units::Dimension& dimension, units::System system);
std::string quantity(double si, const units::Dimension& dimension, units::System system);

} // namespace holdtrue::app
