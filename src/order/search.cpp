#include "order/search.h"

#include "order/archive.h"
#include "order/chain.h"
#include "order/messages.h"
#include "text/verify.h"

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <iterator>
#include <mutex>
#include <stdexcept>
#include <thread>

namespace holdtrue::order {
namespace {

// Requests a stop after a time, or when the caller does; gone with its scope.
class Deadline {
public:
    Deadline(double seconds, std::stop_token outer) : outer_(std::move(outer), [this] { source_.request_stop(); }) {
        if (seconds > 0)
            clock_ = std::jthread([this, seconds](std::stop_token ended) {
                std::mutex mutex;
                std::unique_lock lock(mutex);
                if (!wake_.wait_for(lock, ended, std::chrono::duration<double>(seconds), [] { return false; }) &&
                    !ended.stop_requested())
                    source_.request_stop();
            });
    }
    std::stop_token token() const { return source_.get_token(); }

private:
    std::stop_source source_;
    std::stop_callback<std::function<void()>> outer_;
    std::condition_variable_any wake_;
    std::jthread clock_;
};

SearchResult result_of(const Archive& archive) {
    SearchResult result;
    result.leaders = archive.leaders();
    result.front = archive.front();
    return result;
}

} // namespace

SearchResult search(const Problem& problem, const SearchOptions& options, SearchProgress* progress,
                    std::stop_token stop) {
    VERIFY(options.chains > 0, "a search has chains");
    const Deadline deadline(options.seconds, std::move(stop));
    const auto run = [&](int number) {
        Chain chain(problem, options, number, progress, deadline.token());
        switch (options.method) {
        case Method::annealing:
            anneal(chain);
            break;
        case Method::large_neighbourhood:
            large_neighbourhood(chain);
            break;
        case Method::beam:
            beam(chain);
            break;
        }
        SearchResult result = result_of(chain.archive());
        if (!result.leaders.empty())
            result.chain_costs.push_back(result.leaders.front().cost);
        result.tries = chain.tries();
        result.cut_short = chain.cut_short();
        return result;
    };
    return merge(problem, parallel::gather(options.workers(), options.chains, run), options.leaders);
}

SearchResult merge(const Problem& problem, const std::vector<SearchResult>& parts, int leaders) {
    Archive all(problem, leaders);
    SearchResult result;
    for (const SearchResult& part : parts) {
        for (const Candidate& candidate : part.leaders)
            all.add(candidate);
        for (const Candidate& candidate : part.front)
            all.add(candidate);
        result.chain_costs.insert(result.chain_costs.end(), part.chain_costs.begin(), part.chain_costs.end());
        result.tries += part.tries;
        result.cut_short = result.cut_short || part.cut_short;
    }
    result.leaders = all.leaders();
    result.front = all.front();
    return result;
}

SearchResult enumerate(const Problem& problem, OrderSpace::Freedom freedom, int leaders, int at_most,
                       const parallel::Workers& workers, SearchProgress* progress, std::stop_token stop) {
    std::vector<Order> orders;
    const bool is_all = problem.space->every_order(freedom, [&](const Order& order) {
        orders.push_back(order);
        return orders.size() <= static_cast<std::size_t>(at_most);
    });
    if (!is_all)
        throw std::length_error("more orders than may be enumerated");

    // Blocks of orders that begin alike: each has an evaluator of its own.
    constexpr int block = 1024;
    const int count = static_cast<int>(orders.size());
    const auto run = [&](int k) {
        const std::unique_ptr<Evaluator> evaluator = problem.make_evaluator();
        Archive archive(problem, leaders);
        int tries = 0;
        for (int at = k * block; at < std::min(count, (k + 1) * block) && !stop.stop_requested(); ++at, ++tries) {
            const Order& order = orders[static_cast<std::size_t>(at)];
            Candidate candidate{order, evaluator->evaluate(order), 0};
            candidate.cost = problem.cost(candidate.finding);
            archive.add(candidate);
            if (progress)
                ++progress->tries;
        }
        SearchResult result = result_of(archive);
        result.tries = tries;
        return result;
    };
    SearchResult all = merge(problem, parallel::gather(workers, (count + block - 1) / block, run), leaders);
    all.tried_all = all.tries == count;
    all.cut_short = !all.tried_all;
    if (!all.leaders.empty())
        all.chain_costs.push_back(all.leaders.front().cost);
    return all;
}

std::vector<Candidate> sample(const Problem& problem, int count, const parallel::Workers& workers, std::uint64_t seed,
                              SearchProgress* progress, std::stop_token stop) {
    // Blocks of orders: each has an evaluator and a stream of random numbers of its own.
    constexpr int block = 64;
    const auto run = [&](int k) {
        std::vector<Candidate> candidates;
        Random random(seed, 0x5a3b0000ull + static_cast<std::uint64_t>(k));
        std::unique_ptr<Evaluator> evaluator;
        for (int at = k * block; at < std::min(count, (k + 1) * block) && !stop.stop_requested(); ++at) {
            if (!evaluator)
                evaluator = problem.make_evaluator();
            Candidate candidate;
            candidate.order = problem.space->random(random);
            candidate.finding = evaluator->evaluate(candidate.order);
            candidate.cost = problem.cost(candidate.finding);
            candidates.push_back(std::move(candidate));
            if (progress)
                ++progress->tries;
        }
        return candidates;
    };
    std::vector<Candidate> all;
    for (std::vector<Candidate>& candidates : parallel::gather(workers, (count + block - 1) / block, run))
        std::ranges::move(candidates, std::back_inserter(all));
    return all;
}

} // namespace holdtrue::order
