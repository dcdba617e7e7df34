#include "app/session/format.h"

#include <algorithm>
#include <array>

namespace holdtrue::app {

namespace {

struct Choice {
    std::string_view dimension, metric, imperial;
    int metric_decimals, imperial_decimals;
};
constexpr std::array choices{Choice{"length", "mm", "in", 1, 3},
                             Choice{"time", "s", "s", 0, 0},
                             Choice{"temperature", "c", "f", 0, 0},
                             Choice{"travel speed", "mm_per_min", "in_per_min", 0, 1},
                             Choice{"wire feed speed", "m_per_min", "in_per_min", 1, 0},
                             Choice{"gas flow", "l_per_min", "cfh", 1, 0},
                             Choice{"voltage", "v", "v", 1, 1},
                             Choice{"current", "a", "a", 0, 0},
                             Choice{"area", "mm2", "in2", 1, 4}};

units::Unit unit_named(const units::Dimension& dimension, std::string_view suffix) {
    const auto found = std::ranges::find(dimension.units, suffix, &units::Unit::suffix);
    return found == dimension.units.end() ? dimension.units.front() : *found;
}

} // namespace

ShownUnit shown(const units::Dimension& dimension, units::System system) {
    const auto found = std::ranges::find(choices, dimension.name, &Choice::dimension);
    if (found == choices.end())
        return {dimension.units.front(), 1};
    return system == units::System::metric
               ? ShownUnit{unit_named(dimension, found->metric), found->metric_decimals}
               : ShownUnit{unit_named(dimension, found->imperial), found->imperial_decimals};
}

std::string quantity(double si, const units::Dimension& dimension, units::System system) {
    const ShownUnit as = shown(dimension, system);
    return units::number_text(as.unit.from_si(si), as.decimals) + " " + std::string(as.unit.label);
}

} // namespace holdtrue::app
