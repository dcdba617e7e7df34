// Beam search (Lowerre 1976, there for speech): orders grow pass by pass from the beginning, and only the cheapest few
// beginnings of each length go on. The width is what the tries allow; a last part of the tries polishes the winners.
#include "order/chain.h"
#include "order/changes.h"

#include <algorithm>

namespace holdtrue::order {
namespace {

struct Beginning {
    Order order;
    double cost = 0;
};

std::vector<int> may_follow(const Order& order, const std::vector<OrderedPass>& all, const OrderSpace& space) {
    const auto done = [&](int pass) {
        return std::ranges::find(order.passes, pass, &OrderedPass::pass) != order.passes.end();
    };
    std::vector<int> passes;
    for (const OrderedPass& each : all) {
        const bool ready = std::ranges::none_of(
            all, [&](const OrderedPass& other) { return space.needs(each.pass, other.pass) && !done(other.pass); });
        if (!done(each.pass) && ready)
            passes.push_back(each.pass);
    }
    return passes;
}

} // namespace

void beam(Chain& chain) {
    const Chain::Tried first = chain.start();
    const std::vector<OrderedPass>& all = first.order.passes;
    const int size = static_cast<int>(all.size());
    // A beginning has at most size next passes in two directions; all lengths together have to fit three quarters of
    // the tries.
    const int width = std::max(1, 3 * chain.share() / (4 * size * (size + 1)));
    std::vector<Beginning> held{{Order{{}, first.order.free_before}, 0}};
    for (int length = 0; length < size && !chain.out_of_tries(); ++length) {
        std::vector<Beginning> grown;
        for (const Beginning& beginning : held)
            for (const int pass : may_follow(beginning.order, all, chain.space()))
                for (const bool reversed : {false, true}) {
                    if (chain.out_of_tries())
                        return;
                    Beginning next = beginning;
                    next.order.passes.push_back({pass, reversed, 0});
                    next.cost = chain.try_part(next.order);
                    grown.push_back(std::move(next));
                }
        std::ranges::stable_sort(grown, {}, &Beginning::cost);
        if (grown.size() > static_cast<std::size_t>(width))
            grown.resize(static_cast<std::size_t>(width));
        held = std::move(grown);
    }
    if (held.empty() || chain.out_of_tries())
        return;
    Chain::Tried current = chain.try_order(held.front().order);
    for (std::size_t k = 1; k < held.size() && !chain.out_of_tries(); ++k) {
        Chain::Tried next = chain.try_order(held[k].order);
        if (next.cost < current.cost)
            current = std::move(next);
    }
    while (!chain.out_of_tries()) {
        Order order = current.order;
        change(order, chain.space(), chain.random);
        Chain::Tried next = chain.try_order(order);
        if (next.cost <= current.cost)
            current = std::move(next);
    }
}

} // namespace holdtrue::order
