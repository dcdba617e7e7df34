// One chain of a search: its own random numbers, evaluator, share of the tries and archive.
#pragma once

#include "order/archive.h"

namespace holdtrue::order {

class Chain {
public:
    Chain(const Problem& problem, const SearchOptions& options, int number, SearchProgress* progress,
          std::stop_token stop);

    // Everything below is repeatable; out_of_tries() is what ends a chain, early on a stop request.
    bool out_of_tries() const { return tries_ >= share_ || stop_.stop_requested(); }
    bool cut_short() const { return tries_ < share_; }
    int tries() const { return tries_; }
    int share() const { return share_; }
    const Archive& archive() const { return archive_; }

    // An order and what it costs with the waits that Problem::cooled adds; what goes on from it goes on without them.
    struct Tried {
        Order order;
        double cost;
    };
    Tried try_order(const Order& order); // a whole order; remembered in the archive
    double try_part(const Order& order); // an order that lacks passes; only its cost
    Tried start();                       // from the options' starts, or at random
    const OrderSpace& space() const { return *problem_->space; }

    Random random;

private:
    Candidate candidate(const Order& order);

    const Problem* problem_;
    const SearchOptions* options_;
    int number_, share_, tries_ = 0;
    std::unique_ptr<Evaluator> evaluator_;
    Archive archive_;
    SearchProgress* progress_;
    std::stop_token stop_;
};

// The three methods: each uses up the chain's tries.
void anneal(Chain& chain);
void large_neighbourhood(Chain& chain);
void beam(Chain& chain);

} // namespace holdtrue::order
