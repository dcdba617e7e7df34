#include "text/show.h"

#include <cmath>
#include <cstdio>

namespace holdtrue::text {

const units::Unit& unit_of(const units::Dimension& dimension, UnitSystem system) {
    const bool has_imperial = dimension.name != units::time.name;
    return system == UnitSystem::imperial && has_imperial ? dimension.units.back() : dimension.units.front();
}

std::string show_number(double value) {
    if (!std::isfinite(value))
        return "not known";
    const double size = std::abs(value);
    int decimals = 0;
    if (size > 0 && size < 99.95)
        decimals = std::min(6, 2 - static_cast<int>(std::floor(std::log10(size) + 1e-9)));
    char digits[40];
    std::snprintf(digits, sizeof digits, "%.*f", decimals, value);
    std::string shown = digits;
    if (shown.find('.') != std::string::npos) {
        shown.erase(shown.find_last_not_of('0') + 1);
        if (shown.back() == '.')
            shown.pop_back();
    }
    return shown == "-0" ? "0" : shown;
}

std::string show(double si, const units::Dimension& dimension, UnitSystem system) {
    const units::Unit& unit = unit_of(dimension, system);
    return show_number(unit.from_si(si)) + ' ' + std::string(unit.label);
}

std::string show_range(double low_si, double high_si, const units::Dimension& dimension, UnitSystem system) {
    const units::Unit& unit = unit_of(dimension, system);
    return show_number(unit.from_si(low_si)) + " to " + show_number(unit.from_si(high_si)) + ' ' +
           std::string(unit.label);
}

std::string show_temperature_step(double kelvin, UnitSystem system) {
    return system == UnitSystem::imperial ? show_number(kelvin * 9 / 5) + " °F" : show_number(kelvin) + " °C";
}

} // namespace holdtrue::text
