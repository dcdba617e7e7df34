#include "order/standing.h"

#include "order/messages.h"
#include "units/quantity_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::order {

namespace {

using Kind = SingleChange::Kind;

// Every single change of an order, whether or not it can be carried out.
std::vector<SingleChange> all_changes(const OrderSpace& space, const Order& order) {
    std::vector<SingleChange> changes;
    const int size = static_cast<int>(order.passes.size());
    const auto add = [&](Kind kind, int from, int to) { changes.push_back({kind, from, to, {}, 0}); };
    for (int a = 0; a < size; ++a) {
        add(Kind::reverse, a, a);
        for (int b = a + 1; b < size; ++b)
            add(Kind::swap, a, b);
        for (int b = 0; b < size; ++b)
            if (b != a && b != a + 1)
                add(Kind::move, a, b);
        if (order.passes[static_cast<std::size_t>(a)].wait > 0)
            add(Kind::no_wait, a, 0);
        else
            for (int wait = 1; wait < static_cast<int>(space.waits_s().size()); ++wait)
                add(Kind::wait, a, wait);
    }
    for (int place = 0; place <= size; ++place)
        if (place != order.free_before)
            add(Kind::free_clamps, place, place);
    return changes;
}

Order changed(const Order& order, const SingleChange& change) {
    Order after = order;
    auto& passes = after.passes;
    const auto from = passes.begin() + change.from;
    switch (change.kind) {
    case Kind::swap:
        std::iter_swap(from, passes.begin() + change.to);
        break;
    case Kind::move:
        if (change.to > change.from)
            std::rotate(from, from + 1, passes.begin() + change.to + 1);
        else
            std::rotate(passes.begin() + change.to, from, from + 1);
        break;
    case Kind::reverse:
        from->reversed = !from->reversed;
        break;
    case Kind::wait:
    case Kind::no_wait:
        from->wait = change.kind == Kind::wait ? change.to : 0;
        break;
    case Kind::free_clamps:
        after.free_before = change.to;
        break;
    }
    return after;
}

} // namespace

Standing standing(const Finding& own, const std::vector<Candidate>& sample) {
    Standing found;
    const auto share = [&](auto worse) {
        return sample.empty()
                   ? 0
                   : static_cast<double>(std::ranges::count_if(sample, worse)) / static_cast<double>(sample.size());
    };
    for (std::size_t g = 0; g < own.deviation.size(); ++g)
        found.gauge_beats.push_back(share(
            [&](const Candidate& other) { return std::abs(other.finding.deviation[g]) > std::abs(own.deviation[g]); }));
    found.points_beat = share([&](const Candidate& other) { return other.finding.points_lost > own.points_lost; });
    return found;
}

std::string share_text(double share) {
    int decimals = 0;
    for (double scale = 100; decimals < 4 && share > 0 && share < 1; ++decimals, scale *= 10)
        if (const double rounded = std::round(share * scale); rounded > 0 && rounded < scale)
            break;
    return units::number_text(100 * share, decimals) + " %";
}

std::vector<SingleChange> best_changes(const Problem& problem, const Candidate& own, int count, int tries,
                                       const parallel::Workers& workers, std::uint64_t seed, SearchProgress* progress,
                                       std::stop_token stop) {
    std::vector<SingleChange> changes = all_changes(*problem.space, own.order);
    std::erase_if(changes, [&](const SingleChange& change) {
        const Order after = changed(own.order, change);
        return after == own.order || !problem.space->valid(after);
    });
    Random random(seed, 0x51e00000ull);
    for (std::size_t k = 0; k < changes.size(); ++k) // shuffled, so that what is tried is an even draw
        std::swap(changes[k],
                  changes[k + static_cast<std::size_t>(random.below(static_cast<int>(changes.size() - k)))]);
    if (changes.size() > static_cast<std::size_t>(tries))
        changes.resize(static_cast<std::size_t>(tries));

    // Blocks of changes: each has an evaluator of its own. Where a stop came first, none is left.
    constexpr int block = 16;
    const int size = static_cast<int>(changes.size());
    const auto run = [&](int k) {
        const std::unique_ptr<Evaluator> evaluator = problem.make_evaluator();
        std::vector<Candidate> after;
        for (int at = k * block; at < std::min(size, (k + 1) * block) && !stop.stop_requested(); ++at) {
            Candidate candidate;
            candidate.order = changed(own.order, changes[static_cast<std::size_t>(at)]);
            candidate.finding = evaluator->evaluate(candidate.order);
            candidate.cost = problem.cost(candidate.finding);
            after.push_back(std::move(candidate));
            if (progress)
                ++progress->tries;
        }
        return after;
    };
    const auto tried = parallel::gather(workers, (size + block - 1) / block, run);
    for (int at = 0; at < size; ++at) {
        const std::vector<Candidate>& of_block = tried[static_cast<std::size_t>(at / block)];
        if (static_cast<std::size_t>(at % block) >= of_block.size())
            continue;
        SingleChange& change = changes[static_cast<std::size_t>(at)];
        change.after = of_block[static_cast<std::size_t>(at % block)];
        change.gain = own.cost - change.after.cost;
    }
    std::ranges::stable_sort(changes, [](const SingleChange& a, const SingleChange& b) { return a.gain > b.gain; });
    std::vector<SingleChange> best;
    for (const SingleChange& change : changes) {
        if (change.gain <= 0 || static_cast<int>(best.size()) == count)
            break;
        if (std::ranges::none_of(best, [&](const SingleChange& other) {
                return other.kind == change.kind && other.from == change.from;
            }))
            best.push_back(change);
    }
    return best;
}

} // namespace holdtrue::order
