#include "order/chain.h"

#include "text/verify.h"

#include <cmath>

namespace holdtrue::order {

Chain::Chain(const Problem& problem, const SearchOptions& options, int number, SearchProgress* progress,
             std::stop_token stop)
    : random(options.seed, static_cast<std::uint64_t>(number) + 1), problem_(&problem), options_(&options),
      number_(number), share_((options.tries + options.chains - 1 - number) / options.chains),
      evaluator_(problem.make_evaluator()), archive_(problem, options.leaders), progress_(progress),
      stop_(std::move(stop)) {}

Candidate Chain::candidate(const Order& order) {
    Candidate candidate{problem_->cooled ? problem_->cooled(order) : order, {}, 0};
    candidate.finding = evaluator_->evaluate(candidate.order);
    candidate.cost = problem_->cost(candidate.finding);
    VERIFY(std::isfinite(candidate.cost), "the cost of an order is a number");
    ++tries_;
    if (progress_)
        ++progress_->tries;
    return candidate;
}

Chain::Tried Chain::try_order(const Order& order) {
    const Candidate tried = candidate(order);
    archive_.add(tried);
    if (progress_) {
        double best = progress_->best_cost;
        while (tried.cost < best && !progress_->best_cost.compare_exchange_weak(best, tried.cost)) {
        }
    }
    return {order, tried.cost};
}

double Chain::try_part(const Order& order) { return candidate(order).cost; }

Chain::Tried Chain::start() {
    const std::size_t count = options_->starts.size();
    // Every other chain begins at random, so that a poor start does not hold all of them.
    if (count > 0 && number_ % 2 == 0)
        return try_order(options_->starts[static_cast<std::size_t>(number_ / 2) % count]);
    return try_order(space().random(random));
}

} // namespace holdtrue::order
