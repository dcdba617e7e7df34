#include "app/ui/scales.h"

#include "report/colour_scale.h"
#include "units/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::app {

namespace {

constexpr std::size_t entries = 1024; // the cold end of the heat scale is steep: 256 would show as steps

// Oxide colours of plain carbon steel heated for some minutes in air (common tables of the trade, from memory; they
// shift with time, and scale or zinc hides them).
struct Temper {
    double celsius;
    std::uint8_t red, green, blue;
};
constexpr std::array tempers{Temper{190, 200, 204, 205}, Temper{220, 236, 222, 160}, Temper{240, 222, 190, 98},
                             Temper{255, 176, 124, 60},  Temper{270, 140, 80, 92},   Temper{285, 104, 66, 130},
                             Temper{300, 54, 76, 150},   Temper{320, 98, 138, 186},  Temper{350, 140, 158, 168},
                             Temper{420, 116, 120, 122}};

void push(std::vector<std::uint8_t>& rgb, double red, double green, double blue) {
    for (const double part : {red, green, blue})
        rgb.push_back(static_cast<std::uint8_t>(std::lround(std::clamp(part, 0.0, 255.0))));
}

ShownScale temper_scale() {
    ShownScale scale;
    scale.low_k = units::celsius(tempers.front().celsius);
    scale.high_k = units::celsius(tempers.back().celsius);
    for (std::size_t k = 0; k < entries; ++k) {
        const double celsius = tempers.front().celsius + (tempers.back().celsius - tempers.front().celsius) *
                                                             static_cast<double>(k) / (entries - 1);
        std::size_t next = 1;
        while (next + 1 < tempers.size() && tempers[next].celsius < celsius)
            ++next;
        const Temper &a = tempers[next - 1], &b = tempers[next];
        const double share = (celsius - a.celsius) / (b.celsius - a.celsius);
        push(scale.rgb, a.red + share * (b.red - a.red), a.green + share * (b.green - a.green),
             a.blue + share * (b.blue - a.blue));
    }
    return scale;
}

ShownScale heat_scale(double ambient_k) {
    ShownScale scale;
    scale.low_k = ambient_k;
    scale.high_k = units::celsius(1500);
    const report::ColourScale colours = report::heat_scale();
    for (std::size_t k = 0; k < entries; ++k) {
        const double kelvin = scale.low_k + (scale.high_k - scale.low_k) * static_cast<double>(k) / (entries - 1);
        const report::Colour colour = colours.at(report::heat_share(kelvin, scale.low_k, scale.high_k));
        push(scale.rgb, 255 * colour.red, 255 * colour.green, 255 * colour.blue);
    }
    for (const double celsius : {100.0, 250.0, 500.0, 800.0})
        scale.isotherms_k.push_back(units::celsius(celsius));
    return scale;
}

} // namespace

ShownScale scale_for(const weld::Outcome* outcome, Field field) {
    if (!outcome || field == Field::none)
        return {};
    return field == Field::temper_colours ? temper_scale() : heat_scale(outcome->part->ambient_k);
}

} // namespace holdtrue::app
