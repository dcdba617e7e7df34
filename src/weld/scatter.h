// How one job differs from the plan it follows: no hand repeats itself. For studies of how much an order forgives.
#pragma once

#include <vector>

namespace holdtrue::weld {

struct Scatter {
    std::vector<double> heat;   // pass_count: heat brought, as a factor of the card's
    std::vector<double> across; // pass_count: shrinkage across the weld and angle, as a factor (fit-up, gap)
    std::vector<char> cracked;  // pass_count: a tack that does not hold
};

} // namespace holdtrue::weld
