#include "units/apart_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::units {

ApartTexts apart_texts(double one, double other) {
    ApartTexts texts{significant_text(one), significant_text(other)};
    const double size = std::max(std::abs(one), std::abs(other));
    if (one == other || !std::isfinite(size))
        return texts;
    const int before_point = 1 + static_cast<int>(std::floor(std::log10(size)));
    constexpr int most_digits = 6;
    for (int digits = 4; digits <= most_digits && texts.one == texts.other; ++digits) {
        const int decimals = std::max(0, digits - before_point);
        texts = {number_text(one, decimals), number_text(other, decimals)};
    }
    return texts;
}

ApartTexts apart_texts(double one_si, double other_si, const Dimension& dimension, System system) {
    const Unit& unit = workshop_unit(dimension, system);
    const ApartTexts numbers = apart_texts(unit.from_si(one_si), unit.from_si(other_si));
    const std::string label = (unit.label == "°" ? "" : " ") + std::string(unit.label);
    return {numbers.one + label, numbers.other + label};
}

} // namespace holdtrue::units
