#include "order/archive.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

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

bool alike(const Order& a, const Order& b) {
    std::map<int, std::pair<int, bool>> in_a; // of a pass: the one before, and its direction
    int before = -1;
    for (const OrderedPass& pass : a.passes)
        in_a[pass.pass] = {std::exchange(before, pass.pass), pass.reversed};
    std::size_t different = 0;
    before = -1;
    for (const OrderedPass& pass : b.passes) {
        const auto found = in_a.find(pass.pass);
        const std::pair in_b(std::exchange(before, pass.pass), pass.reversed);
        different += found == in_a.end() || found->second != in_b;
    }
    return different < std::max<std::size_t>(1, b.passes.size() / 8);
}

void Archive::add(const Candidate& candidate) {
    add_leader(candidate);
    add_front(candidate);
}

void Archive::add_leader(const Candidate& candidate) {
    if (leaders_.size() == limit_ && !cheaper(candidate, leaders_.back()))
        return;
    const auto is_alike = [&](const Candidate& leader) { return alike(leader.order, candidate.order); };
    const auto at = std::ranges::lower_bound(leaders_, candidate, cheaper);
    if (std::any_of(leaders_.begin(), at, is_alike) || (at != leaders_.end() && at->order == candidate.order))
        return;
    const auto behind = leaders_.insert(at, candidate) + 1;
    leaders_.erase(std::remove_if(behind, leaders_.end(), is_alike), leaders_.end());
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
