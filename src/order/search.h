// Searches the orders of a part for those that cost least. Three methods, compared in the tests and by
// `holdtrue order --method`:
//   annealing            simulated annealing with moves on permutations (Kirkpatrick, Gelatt & Vecchi 1983)
//   large_neighbourhood  adaptive large neighbourhood search (Ropke & Pisinger 2006): passes are taken out by one of
//                        several rules and put back where they cost least; rules that succeed are drawn more often
//   beam                 orders grown pass by pass, the best few prefixes kept (Lowerre 1976)
// and `enumerate`, every order there is, which proves what it finds: for small parts, and as the judge of the others.
//
// The work is cut into chains that know nothing of each other. A chain depends on the seed and its own number only, so
// the same seed finds the same winner to the last bit, on any number of threads or ranks (parallel/communicator.h),
// unless a time limit or a stop request ends it early. With more than one rank, search() and sample() are collective.
#pragma once

#include "order/order_space.h"
#include "parallel/share_out.h"

#include <atomic>
#include <functional>
#include <memory>
#include <stop_token>
#include <vector>

namespace holdtrue::order {

// What an order leads to, as far as an exercise asks.
struct Finding {
    std::vector<double> deviation; // gauge_count: reading less nominal [m or rad]
    double total_s = 0;            // until the last move is done
    double hottest_interpass_k = 0;
    int turns = 0;
    int setup_changes = 0;  // between passes one after the other (arc/setup_change.h)
    int phrases = 0;        // how much there is to remember (order/phrases.h)
    double points_lost = 0; // of those that the exercise gives for order and heat, gauges, time and handling
    friend bool operator==(const Finding&, const Finding&) = default;
};

// Evaluates orders one after another; each thread has its own. It may keep what it computed for the beginning of the
// last order and begin where the next one differs.
class Evaluator {
public:
    virtual ~Evaluator() = default;
    // Also of an order that lacks passes: what the part would be like if the rest were never welded.
    virtual Finding evaluate(const Order& order) = 0;
};

struct Problem {
    const OrderSpace* space = nullptr;
    std::function<std::unique_ptr<Evaluator>()> make_evaluator;
    std::function<double(const Finding&)> cost;       // to be made small; finite; >= 0
    std::function<double(const Finding&)> distortion; // one figure for the gauges, against time in the front
    // What a search does to every order before it is tried: longer waits, where a start would be too hot. Null:
    // nothing.
    std::function<Order(const Order&)> cooled = {};
};

struct Candidate {
    Order order;
    Finding finding;
    double cost = 0;
};

enum class Method { annealing, large_neighbourhood, beam };

struct SearchOptions {
    Method method = Method::annealing;
    int tries = 10000;  // evaluations in all
    double seconds = 0; // stop after this time; 0: no limit
    int threads = 1;
    parallel::Communicator* communicator = nullptr; // shares the chains out to ranks; null: this process alone
    std::uint64_t seed = 1;
    int chains = 8;            // cut of the work, and most that can run at once; part of what makes a result repeatable
    int leaders = 8;           // how many different candidates to return
    std::vector<Order> starts; // orders to begin from; chains without one begin from a random order

    parallel::Workers workers() const { return {threads, communicator}; }
};

// Shared with whoever watches: what this process has done of its share.
struct SearchProgress {
    std::atomic<int> tries{0};
    std::atomic<double> best_cost{1e300};
};

struct SearchResult {
    std::vector<Candidate> leaders; // best first; all different
    // Found on the way: no other candidate seen had both smaller distortion and smaller time. Fastest first.
    std::vector<Candidate> front;
    std::vector<double> chain_costs; // of the best of each chain, in the chains' order
    int tries = 0;
    bool cut_short = false; // by time or stop request
    bool tried_all = false; // every order of the space: none is better
};

SearchResult search(const Problem& problem, const SearchOptions& options, SearchProgress* progress = nullptr,
                    std::stop_token stop = {});

// Puts the results of several searches of one problem together.
SearchResult merge(const Problem& problem, const std::vector<SearchResult>& parts, int leaders);

// Every order of the space (OrderSpace::every_order), the same whoever the workers are. Throws std::length_error when
// there are more than `at_most`. Collective.
SearchResult enumerate(const Problem& problem, OrderSpace::Freedom freedom, int leaders, int at_most,
                       const parallel::Workers& workers = {}, SearchProgress* progress = nullptr,
                       std::stop_token stop = {});

// `count` random orders and what they lead to, in a fixed order whoever the workers are.
std::vector<Candidate> sample(const Problem& problem, int count, const parallel::Workers& workers, std::uint64_t seed,
                              SearchProgress* progress = nullptr, std::stop_token stop = {});

} // namespace holdtrue::order
