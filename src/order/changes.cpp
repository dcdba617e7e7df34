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
    case 7: { // what can be welded as the part lies comes first
        const auto from = static_cast<std::size_t>(std::min(a, b)), to = static_cast<std::size_t>(std::max(a, b));
        const std::vector<int> poses = space.poses(order);
        std::vector<OrderedPass> later;
        std::size_t place = from;
        for (std::size_t k = from; k <= to; ++k)
            if (poses[k] == poses[from])
                order.passes[place++] = order.passes[k];
            else
                later.push_back(order.passes[k]);
        std::ranges::copy(later, order.passes.begin() + static_cast<std::ptrdiff_t>(place));
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
