// Simulated annealing: Kirkpatrick, Gelatt & Vecchi, Science 220 (1983) 671. A worse order is taken with the chance
// exp(-rise / temperature), and the temperature falls by a constant factor per try.
#include "order/chain.h"
#include "order/changes.h"

#include <cmath>

namespace holdtrue::order {
namespace {

constexpr int probes = 12;          // changes tried to find the scale of a rise
constexpr double end_factor = 1e-3; // last temperature against the first

} // namespace

void anneal(Chain& chain) {
    Chain::Tried current = chain.start();
    double rise_sum = 0;
    for (int k = 0; k < probes && !chain.out_of_tries(); ++k) {
        Order order = current.order;
        change(order, chain.space(), chain.random);
        rise_sum += std::abs(chain.try_order(order).cost - current.cost);
    }
    // At first, half of the usual rise is taken with a chance of 1 in e.
    const double first = 0.5 * rise_sum / probes + 1e-12;
    const int left = std::max(1, chain.share() - chain.tries());
    const double factor = std::pow(end_factor, 1.0 / left);
    for (double temperature = first; !chain.out_of_tries(); temperature *= factor) {
        Order order = current.order;
        change(order, chain.space(), chain.random);
        if (order == current.order)
            change(order, chain.space(), chain.random);
        Chain::Tried next = chain.try_order(order);
        if (next.cost <= current.cost || chain.random.unit() < std::exp((current.cost - next.cost) / temperature))
            current = std::move(next);
    }
}

} // namespace holdtrue::order
