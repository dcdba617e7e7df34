// What ranks tell each other of a search (parallel/message.h).
#pragma once

#include "order/search.h"
#include "parallel/message.h"

namespace holdtrue::order {

template <parallel::Is<OrderedPass> P>
auto fields(P& ordered) {
    auto& [pass, reversed, wait] = ordered;
    return std::tie(pass, reversed, wait);
}
template <parallel::Is<Order> O>
auto fields(O& order) {
    auto& [passes, free_before] = order;
    return std::tie(passes, free_before);
}
template <parallel::Is<Finding> F>
auto fields(F& finding) {
    auto& [deviation, total_s, hottest_interpass_k, turns, setup_changes, phrases, points_lost] = finding;
    return std::tie(deviation, total_s, hottest_interpass_k, turns, setup_changes, phrases, points_lost);
}
template <parallel::Is<Candidate> C>
auto fields(C& candidate) {
    auto& [order, finding, cost] = candidate;
    return std::tie(order, finding, cost);
}
template <parallel::Is<SearchResult> R>
auto fields(R& result) {
    auto& [leaders, front, chain_costs, tries, cut_short, tried_all] = result;
    return std::tie(leaders, front, chain_costs, tries, cut_short, tried_all);
}

} // namespace holdtrue::order
