#include "units/quantity_text.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace holdtrue::units {
namespace {

std::string with_unit(double value, int decimals, std::string_view unit) {
    return number_text(value, decimals) + " " + std::string(unit);
}

std::string in_unit(double si, const Unit& unit, int decimals) {
    return with_unit(unit.from_si(si), decimals, unit.label);
}

// "2.50" as "2.5", "3.00" as "3".
std::string without_end_noughts(std::string number) {
    if (number.find('.') != std::string::npos) {
        number.erase(number.find_last_not_of('0') + 1);
        if (number.back() == '.')
            number.pop_back();
    }
    return number;
}

} // namespace

std::string number_text(double value, int decimals) {
    if (!std::isfinite(value))
        return "-";
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    const std::string written = text;
    const bool all_zero = written.find_first_of("123456789") == std::string::npos;
    return all_zero && written.front() == '-' ? written.substr(1) : written;
}

std::string signed_text(double value, int decimals) {
    const std::string text = number_text(value, decimals);
    const bool zero = text.find_first_of("123456789") == std::string::npos;
    return text.front() == '-' || zero ? text : "+" + text;
}

std::string reading_text(double si_m, System system) {
    return system == System::metric ? in_unit(si_m, detail::length[0], 2) : in_unit(si_m, detail::length[1], 3);
}

std::string length_text(double si_m, System system) {
    if (system == System::imperial)
        return reading_text(si_m, system);
    const Unit& millimetre = detail::length[0];
    return without_end_noughts(number_text(millimetre.from_si(si_m), 2)) + " " + std::string(millimetre.label);
}

std::string temperature_text(double kelvin, System system) {
    return in_unit(kelvin, detail::temperature[system == System::metric ? 0 : 1], 0);
}

std::string difference_text(double kelvin, System system) {
    return system == System::metric ? with_unit(kelvin, 0, "K") : with_unit(kelvin * 9 / 5, 0, "°F");
}

std::string angle_text(double rad) { return number_text(detail::angle[0].from_si(rad), 2) + "°"; }

std::string travel_text(double m_per_s, System system) {
    return system == System::metric ? in_unit(m_per_s, detail::travel[1], 0) : in_unit(m_per_s, detail::travel[2], 1);
}

std::string wire_feed_text(double m_per_s, System system) {
    return system == System::metric ? in_unit(m_per_s, detail::wire_feed[0], 1)
                                    : in_unit(m_per_s, detail::wire_feed[1], 0);
}

std::string flow_text(double m3_per_s, System system) {
    return in_unit(m3_per_s, detail::flow[system == System::metric ? 0 : 1], 0);
}

std::string heat_input_text(double j_per_m, System system) {
    return system == System::metric ? with_unit(j_per_m * 1e-6, 2, "kJ/mm")
                                    : with_unit(j_per_m * 1e-3 * inch, 1, "kJ/in");
}

const Unit& workshop_unit(const Dimension& dimension, System system) {
    if (system == System::imperial && dimension.name != time.name)
        return dimension.units.back();
    return dimension.name == travel.name ? dimension.units[1] : dimension.units.front();
}

std::string significant_text(double value) {
    if (!std::isfinite(value))
        return "not known";
    const double size = std::abs(value);
    if (size >= 1e15) { // more digits than a double has
        char text[32];
        std::snprintf(text, sizeof text, "%.3g", value);
        std::string words = text;
        std::erase(words, '+'); // 1e62
        return words;
    }
    const int decimals =
        size > 1e-6 && size < 99.95 ? std::min(6, 2 - static_cast<int>(std::floor(std::log10(size) + 1e-3))) : 0;
    return without_end_noughts(number_text(value, decimals));
}

std::string quantity_text(double si, const Dimension& dimension, System system) {
    const Unit& unit = workshop_unit(dimension, system);
    return significant_text(unit.from_si(si)) + " " + std::string(unit.label);
}

std::string duration_text(double s) {
    const long total = std::lround(std::max(0.0, s));
    char text[64];
    if (total < 60)
        std::snprintf(text, sizeof text, "%ld s", total);
    else if (total < 3600)
        std::snprintf(text, sizeof text, "%ld min %02ld s", total / 60, total % 60);
    else
        std::snprintf(text, sizeof text, "%ld h %02ld min", total / 3600, total % 3600 / 60);
    return text;
}

std::string clock_text(double s) {
    const long total = std::lround(std::max(0.0, s));
    char text[64];
    if (total < 3600)
        std::snprintf(text, sizeof text, "%ld:%02ld", total / 60, total % 60);
    else
        std::snprintf(text, sizeof text, "%ld:%02ld:%02ld", total / 3600, total % 3600 / 60, total % 60);
    return text;
}

} // namespace holdtrue::units
