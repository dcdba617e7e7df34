// Round values along an axis, and how they are written.
#pragma once

#include "units/units.h"

#include <string>
#include <vector>

namespace holdtrue::app {

// Round values, or whole minutes and hours for a time in seconds, about `count` of them between two ends.
std::vector<double> ticks(double low, double high, int count, bool time);

struct Tick {
    double value; // SI
    std::string text;
};
// Values between two ends (SI) that are round in the unit, each written with it and with no more decimals than the
// steps need. Where zero lies between the ends, what is above it carries its sign.
std::vector<Tick> ticks_in(const units::Unit& unit, double low, double high, int count);

} // namespace holdtrue::app
