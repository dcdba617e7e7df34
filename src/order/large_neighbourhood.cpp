// Adaptive large neighbourhood search: Ropke & Pisinger, Transportation Science 40 (2006) 455. A few passes are taken
// out of the order by one of several rules and put back, one after another, where they cost least; the rules that led
// to better orders are drawn more often. Worse orders are taken as in simulated annealing.
#include "order/chain.h"
#include "order/changes.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::order {
namespace {

constexpr int places_tried = 4;  // per pass that is put back, in each direction
constexpr double reaction = 0.1; // how fast the weights follow success (Ropke & Pisinger, sec. 3.4)
constexpr double new_best = 33, better = 13, accepted = 9; // scores, ibid. sec. 4.3.1
constexpr int rule_count = 4;

// Chooses which places of the order are emptied.
std::vector<std::size_t> places_to_empty(int rule, const Order& order, const OrderSpace& space, Random& random) {
    const int size = static_cast<int>(order.passes.size());
    const int count = std::min(size, 1 + random.below(std::clamp(size / 4, 2, 6)));
    std::vector<std::size_t> places;
    const auto add = [&](int place) {
        if (std::ranges::find(places, static_cast<std::size_t>(place)) == places.end())
            places.push_back(static_cast<std::size_t>(place));
    };
    const int seed = random.below(size);
    const part::Part& part = space.part();
    const auto pass_at = [&](int place) -> const part::Pass& {
        return part.passes[static_cast<std::size_t>(order.passes[static_cast<std::size_t>(place)].pass)];
    };
    switch (rule) {
    case 0: // anywhere
        for (int k = 0; k < count; ++k)
            add(random.below(size));
        break;
    case 1: // a stretch
        for (int k = 0; k < count; ++k)
            add((seed + k) % size);
        break;
    case 2: // of one joint
        for (int k = 0; k < size && static_cast<int>(places.size()) < count; ++k)
            if (pass_at((seed + k) % size).joint == pass_at(seed).joint)
                add((seed + k) % size);
        break;
    default: // of one kind
        for (int k = 0; k < size && static_cast<int>(places.size()) < count; ++k)
            if (pass_at((seed + k) % size).kind == pass_at(seed).kind)
                add((seed + k) % size);
    }
    std::ranges::sort(places, std::greater<>());
    return places;
}

// Puts a pass back at the cheapest of a few places, in the cheaper direction.
void put_back(Order& order, OrderedPass pass, Chain& chain) {
    Order best;
    double best_cost = 0;
    for (int k = 0; k < places_tried && !chain.out_of_tries(); ++k) {
        const int place = chain.random.below(static_cast<int>(order.passes.size()) + 1);
        for (const bool reversed : {false, true}) {
            if (chain.out_of_tries())
                break;
            pass.reversed = reversed;
            Order tried = order;
            tried.passes.insert(tried.passes.begin() + place, pass);
            const double cost = chain.try_part(tried);
            if (best.passes.empty() || cost < best_cost) {
                best = std::move(tried);
                best_cost = cost;
            }
        }
    }
    if (best.passes.empty())
        order.passes.push_back(pass);
    else
        order = std::move(best);
}

} // namespace

void large_neighbourhood(Chain& chain) {
    Chain::Tried current = chain.start();
    double best = current.cost;
    std::array<double, rule_count + 1> weight; // the last rule is one small change
    weight.fill(1);
    const double first = 0.2 * current.cost + 1e-12;
    while (!chain.out_of_tries()) {
        double total = 0;
        for (const double each : weight)
            total += each;
        double drawn = chain.random.unit() * total;
        std::size_t rule = 0;
        while (rule < rule_count && drawn >= weight[rule])
            drawn -= weight[rule++];

        Order order = current.order;
        if (rule == rule_count) {
            change(order, chain.space(), chain.random);
        } else {
            std::vector<OrderedPass> out;
            for (const std::size_t place :
                 places_to_empty(static_cast<int>(rule), order, chain.space(), chain.random)) {
                out.push_back(order.passes[place]);
                order.passes.erase(order.passes.begin() + static_cast<std::ptrdiff_t>(place));
            }
            while (!out.empty()) {
                const auto next = static_cast<std::ptrdiff_t>(chain.random.below(static_cast<int>(out.size())));
                put_back(order, out[static_cast<std::size_t>(next)], chain);
                out.erase(out.begin() + next);
            }
            chain.space().repair(order);
        }
        if (chain.out_of_tries())
            break;
        Chain::Tried next = chain.try_order(order);
        const double temperature = first * std::pow(1e-3, static_cast<double>(chain.tries()) / chain.share());
        double score = 0;
        const bool is_better = next.cost < current.cost;
        if (is_better || chain.random.unit() < std::exp((current.cost - next.cost) / temperature)) {
            score = next.cost < best ? new_best : is_better ? better : accepted;
            best = std::min(best, next.cost);
            current = std::move(next);
        }
        weight[rule] = (1 - reaction) * weight[rule] + reaction * score / accepted;
        weight[rule] = std::max(weight[rule], 0.05); // no rule dies out
    }
}

} // namespace holdtrue::order
