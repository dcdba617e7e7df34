// Two values that differ, written so that they read differently: three significant digits, and more where these are
// alike. For "is 179.6 mm/min, below 180 mm/min".
#pragma once

#include "units/quantity_text.h"

#include <string>

namespace holdtrue::units {

struct ApartTexts {
    std::string one, other;
};
// Alike in spite of all from the seventh digit on. Plain numbers, or SI with the dimension's workshop unit.
ApartTexts apart_texts(double one, double other);
ApartTexts apart_texts(double one_si, double other_si, const Dimension& dimension, System system);

} // namespace holdtrue::units
