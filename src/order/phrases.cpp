#include "order/phrases.h"

#include <algorithm>

namespace holdtrue::order {

namespace {

// How far a pattern of `places` places that begins at `from` goes on.
std::size_t reach(const part::Part& part, const std::vector<OrderedPass>& passes, std::size_t from,
                  std::size_t places) {
    if (from + 2 * places > passes.size())
        return std::min(passes.size(), from + places);
    const auto joint = [&](std::size_t k) { return part.passes[static_cast<std::size_t>(passes[k].pass)].joint; };
    const auto kind = [&](std::size_t k) { return part.passes[static_cast<std::size_t>(passes[k].pass)].kind; };
    std::size_t to = from + places;
    while (to < passes.size()) {
        const std::size_t before = to - places;
        const std::size_t first = from + (to - from) % places; // of this place of the pattern
        if (joint(to) != joint(before) || kind(to) != kind(before) || passes[to].reversed != passes[before].reversed ||
            passes[to].pass - passes[before].pass != passes[first + places].pass - passes[first].pass)
            break;
        ++to;
    }
    return to;
}

} // namespace

int count_phrases(const OrderSpace& space, const Order& order) {
    const std::vector<OrderedPass>& passes = order.passes;
    int phrases = space.turns(order) + space.setup_changes(order);
    for (std::size_t at = 0; at < passes.size();) {
        // The pattern that says the most passes per word.
        std::size_t best_to = at + 1, best_places = 1;
        for (std::size_t places = 1; places <= 4; ++places) {
            const std::size_t to = reach(space.part(), passes, at, places);
            if ((to - at) * best_places > (best_to - at) * places) {
                best_to = to;
                best_places = places;
            }
        }
        phrases += static_cast<int>(best_places);
        at = best_to;
    }
    for (const OrderedPass& pass : passes)
        phrases += pass.wait > 0;
    return phrases;
}

} // namespace holdtrue::order
