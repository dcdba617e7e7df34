#include "order/archive.h"

#include <algorithm>
#include <tuple>

namespace holdtrue::order {
namespace {

bool cheaper(const Candidate& a, const Candidate& b) {
    return a.cost != b.cost ? a.cost < b.cost : comes_before(a.order, b.order);
}

} // namespace

bool comes_before(const Order& a, const Order& b) {
    if (a.free_before != b.free_before)
        return a.free_before < b.free_before;
    return std::ranges::lexicographical_compare(a.passes, b.passes, [](const OrderedPass& x, const OrderedPass& y) {
        return std::tie(x.pass, x.reversed, x.wait) < std::tie(y.pass, y.reversed, y.wait);
    });
}

void Archive::add(const Candidate& candidate) {
    add_leader(candidate);
    add_front(candidate);
}

void Archive::add_leader(const Candidate& candidate) {
    if (leaders_.size() == limit_ && !cheaper(candidate, leaders_.back()))
        return;
    const auto at = std::ranges::lower_bound(leaders_, candidate, cheaper);
    if (at != leaders_.end() && at->order == candidate.order)
        return;
    leaders_.insert(at, candidate);
    if (leaders_.size() > limit_)
        leaders_.pop_back();
}

void Archive::add_front(const Candidate& candidate) {
    const double distortion = problem_->distortion(candidate.finding);
    const auto beats = [&](const Candidate& a, const Candidate& b) { // a is at least as good in both
        const double of_a = problem_->distortion(a.finding), of_b = problem_->distortion(b.finding);
        if (of_a == of_b && a.finding.total_s == b.finding.total_s)
            return !comes_before(b.order, a.order);
        return of_a <= of_b && a.finding.total_s <= b.finding.total_s;
    };
    if (std::ranges::any_of(front_, [&](const Candidate& held) { return beats(held, candidate); }))
        return;
    std::erase_if(front_, [&](const Candidate& held) { return beats(candidate, held); });
    const auto at = std::ranges::find_if(
        front_, [&](const Candidate& held) { return problem_->distortion(held.finding) < distortion; });
    front_.insert(at, candidate);
}

} // namespace holdtrue::order
