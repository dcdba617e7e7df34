// Which colours stand for which temperature in the 3D view and its legend.
#pragma once

#include "app/session/view.h"
#include "weld/outcome.h"

#include <cstdint>
#include <vector>

namespace holdtrue::app {

struct ShownScale {
    double low_k = 0, high_k = 0;
    std::vector<std::uint8_t> rgb;   // entries r, g, b, evenly from low_k to high_k
    std::vector<double> isotherms_k; // drawn as lines, named in the legend
};

// The heat scale from ambient to just above the melting range; temper colours over the range in which they form.
ShownScale scale_for(const weld::Outcome* outcome, Field field);

} // namespace holdtrue::app
