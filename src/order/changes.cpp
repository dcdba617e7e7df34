#include "order/changes.h"

#include <algorithm>

namespace holdtrue::order {
namespace {

// Takes passes [from, from + count) out and puts them before the pass that then stands at `to`.
void move_stretch(std::vector<OrderedPass>& passes, int from, int count, int to) {
    const std::vector<OrderedPass> moved(passes.begin() + from, passes.begin() + from + count);
    passes.erase(passes.begin() + from, passes.begin() + from + count);
    passes.insert(passes.begin() + to, moved.begin(), moved.end());
}

// Of passes [from, to], those with the same number as the first come first; `number`: one per pass of the order.
void gather_like_first(std::vector<OrderedPass>& passes, int from, int to, const std::vector<int>& number) {
    std::vector<OrderedPass> like, later;
    for (auto k = static_cast<std::size_t>(from); k <= static_cast<std::size_t>(to); ++k)
        (number[k] == number[static_cast<std::size_t>(from)] ? like : later).push_back(passes[k]);
    std::ranges::copy(later, std::ranges::copy(like, passes.begin() + from).out);
}

} // namespace

void change(Order& order, const OrderSpace& space, Random& random) {
    const int size = static_cast<int>(order.passes.size());
    const int a = random.below(size), b = random.below(size);
    switch (random.below(9)) {
    case 0:
        std::swap(order.passes[static_cast<std::size_t>(a)], order.passes[static_cast<std::size_t>(b)]);
        break;
    case 1:
    case 2:
        move_stretch(order.passes, a, 1, b);
        break;
    case 3: {
        const int count = 1 + random.below(std::max(1, size / 4));
        const int from = random.below(size - count + 1);
        move_stretch(order.passes, from, count, random.below(size - count + 1));
        break;
    }
    case 4:
        std::reverse(order.passes.begin() + std::min(a, b), order.passes.begin() + std::max(a, b) + 1);
        break;
    case 5:
    case 6:
        order.passes[static_cast<std::size_t>(a)].reversed = !order.passes[static_cast<std::size_t>(a)].reversed;
        break;
    case 7: { // what can be welded as the part lies, or as the power source is set, comes first
        const bool by_setup = space.has_setup_changes() && random.coin(0.5);
        gather_like_first(order.passes, std::min(a, b), std::max(a, b),
                          by_setup ? space.setups(order) : space.poses(order));
        break;
    }
    default:
        if (random.coin(0.3))
            order.free_before = random.below(size + 1);
        else
            order.passes[static_cast<std::size_t>(a)].wait =
                random.coin(0.5) ? 0 : random.below(static_cast<int>(space.waits_s().size()));
    }
    space.repair(order);
}

} // namespace holdtrue::order
