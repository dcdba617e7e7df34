#include "order/order_space.h"

#include "arc/setup_change.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::order {
namespace {

bool overlap(const part::Pass& a, const part::Pass& b) { return a.from_m < b.to_m - 1e-6 && b.from_m < a.to_m - 1e-6; }

// Whether `later` cannot be welded before `earlier`: a tack that a run would cover, a layer on the layer below it, and
// any run or plug after all tacks.
bool comes_after(const part::Pass& later, const part::Pass& earlier) {
    if (later.kind != part::PassKind::tack && earlier.kind == part::PassKind::tack)
        return true;
    return later.joint == earlier.joint && later.kind == part::PassKind::run && earlier.kind == part::PassKind::run &&
           later.layer == earlier.layer + 1 && overlap(later, earlier);
}

int first_alike(const std::vector<arc::SettingCard>& cards, int card) {
    const auto alike = [&](const arc::SettingCard& other) {
        return !arc::setup_change(other, cards[static_cast<std::size_t>(card)]).any();
    };
    return static_cast<int>(std::ranges::find_if(cards, alike) - cards.begin());
}

} // namespace

OrderSpace::OrderSpace(std::shared_ptr<const part::Part> part, const weld::Plan& plan)
    : part_(std::move(part)), base_(plan), needs_(part_->passes.size()), waits_s_{0, 30, 60, 120, 300, 600} {
    VERIFY(part_->poses.size() <= 64, "a part has a handful of poses");
    base_.moves.clear();
    for (const weld::Move& move : plan.moves) {
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what)) {
            passes_.push_back(weld->pass);
            Need& need = needs_[static_cast<std::size_t>(weld->pass)];
            need.card = weld->card;
            need.setup = first_alike(plan.cards, weld->card);
            has_setup_changes_ = has_setup_changes_ || need.setup != this->need(passes_.front()).setup;
        }
        if (const auto* clamp = std::get_if<weld::ClampMove>(&move.what))
            frees_clamps_ = frees_clamps_ || !clamp->fix;
    }
    for (const int later : passes_) {
        Need& need = needs_[static_cast<std::size_t>(later)];
        const part::Pass& pass = part_->passes[static_cast<std::size_t>(later)];
        for (const int earlier : passes_)
            if (comes_after(pass, part_->passes[static_cast<std::size_t>(earlier)]))
                need.earlier.push_back(earlier);
        const std::vector<std::string>& names = part_->joints[static_cast<std::size_t>(pass.joint)].positions_reachable;
        for (std::size_t pose = 0; pose < part_->poses.size(); ++pose)
            if (names.empty() || std::ranges::find(names, part_->poses[pose].name) != names.end())
                need.reach |= std::uint64_t{1} << pose;
    }
    for (std::size_t clamp = 0; clamp < part_->clamps.size(); ++clamp)
        if (part_->clamps[clamp].fixed_at_start)
            clamps_.push_back(static_cast<int>(clamp));
}

bool OrderSpace::needs(int later, int earlier) const {
    return std::ranges::find(need(later).earlier, earlier) != need(later).earlier.end();
}

bool OrderSpace::valid(const Order& order) const {
    if (order.passes.size() != passes_.size() || order.free_before < 0 || order.free_before > size())
        return false;
    std::vector<char> done(needs_.size());
    for (const OrderedPass& each : order.passes) {
        if (std::ranges::find(passes_, each.pass) == passes_.end() || done[static_cast<std::size_t>(each.pass)])
            return false;
        if (each.wait < 0 || static_cast<std::size_t>(each.wait) >= waits_s_.size() || need(each.pass).reach == 0)
            return false;
        for (const int earlier : need(each.pass).earlier)
            if (!done[static_cast<std::size_t>(earlier)])
                return false;
        done[static_cast<std::size_t>(each.pass)] = 1;
    }
    return true;
}

Order OrderSpace::random(Random& random) const {
    std::vector<int> missing(needs_.size()); // how many passes still have to come first
    for (const int pass : passes_)
        missing[static_cast<std::size_t>(pass)] = static_cast<int>(need(pass).earlier.size());
    std::vector<int> left = passes_;
    Order order;
    while (!left.empty()) {
        std::vector<std::size_t> free;
        for (std::size_t k = 0; k < left.size(); ++k)
            if (missing[static_cast<std::size_t>(left[k])] == 0)
                free.push_back(k);
        VERIFY(!free.empty(), "passes that wait for each other");
        const std::size_t chosen = free[static_cast<std::size_t>(random.below(static_cast<int>(free.size())))];
        const int pass = left[chosen];
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(chosen));
        order.passes.push_back({pass, random.coin(0.5), 0});
        for (const int other : left)
            if (needs(other, pass))
                --missing[static_cast<std::size_t>(other)];
    }
    order.free_before = random.below(size() + 1);
    return order;
}

bool OrderSpace::every_order(Freedom freedom, const std::function<bool(const Order&)>& visit) const {
    const bool all = freedom == Freedom::everything;
    std::vector<char> done(needs_.size());
    Order order;
    const std::function<bool()> grow = [&] {
        if (order.passes.size() == passes_.size()) {
            for (order.free_before = all && frees_clamps_ ? 0 : size(); order.free_before <= size();
                 ++order.free_before)
                if (!visit(order))
                    return false;
            return true;
        }
        const int waits = all && !order.passes.empty() ? static_cast<int>(waits_s_.size()) : 1;
        for (const int pass : passes_) {
            if (done[static_cast<std::size_t>(pass)] || std::ranges::any_of(need(pass).earlier, [&](int earlier) {
                    return !done[static_cast<std::size_t>(earlier)];
                }))
                continue;
            done[static_cast<std::size_t>(pass)] = 1;
            for (const bool reversed : {false, true})
                for (int wait = 0; wait < waits; ++wait) {
                    order.passes.push_back({pass, reversed, wait});
                    if (!grow())
                        return false;
                    order.passes.pop_back();
                }
            done[static_cast<std::size_t>(pass)] = 0;
        }
        return true;
    };
    return grow();
}

double OrderSpace::digits_of_count() const {
    const auto is_tack = [&](int pass) {
        return part_->passes[static_cast<std::size_t>(pass)].kind == part::PassKind::tack;
    };
    const double tacks = static_cast<double>(std::ranges::count_if(passes_, is_tack)), others = size() - tacks;
    const double sequences = (std::lgamma(tacks + 1) + std::lgamma(others + 1)) / std::log(10.0);
    const double waits = std::log10(static_cast<double>(waits_s_.size()));
    return sequences + size() * std::log10(2.0) + std::max(0, size() - 1) * waits +
           (frees_clamps_ ? std::log10(size() + 1.0) : 0);
}

void OrderSpace::repair(Order& order) const {
    std::vector<char> done(needs_.size());
    std::vector<OrderedPass> waiting = std::move(order.passes);
    order.passes.clear();
    // Each round takes the first pass, in the wanted order, whose needs are met.
    while (!waiting.empty()) {
        const auto next = std::ranges::find_if(waiting, [&](const OrderedPass& each) {
            return std::ranges::all_of(need(each.pass).earlier,
                                       [&](int earlier) { return done[static_cast<std::size_t>(earlier)] != 0; });
        });
        VERIFY(next != waiting.end(), "passes that wait for each other");
        done[static_cast<std::size_t>(next->pass)] = 1;
        order.passes.push_back(*next);
        waiting.erase(next);
    }
}

std::vector<int> OrderSpace::poses(const Order& order) const {
    std::vector<int> poses;
    int pose = 0;
    for (std::size_t k = 0; k < order.passes.size(); ++k) {
        if (!(need(order.passes[k].pass).reach >> pose & 1)) {
            // Poses still possible for a stretch of passes; the last one left holds longest.
            std::uint64_t possible = need(order.passes[k].pass).reach;
            for (std::size_t ahead = k + 1; ahead < order.passes.size(); ++ahead) {
                const std::uint64_t narrower = possible & need(order.passes[ahead].pass).reach;
                if (narrower == 0)
                    break;
                possible = narrower;
            }
            pose = 0;
            while (!(possible >> pose & 1))
                ++pose;
        }
        poses.push_back(pose);
    }
    return poses;
}

int OrderSpace::turns(const Order& order) const {
    int count = 0, before = 0;
    for (const int pose : poses(order)) {
        count += pose != before;
        before = pose;
    }
    return count;
}

std::vector<int> OrderSpace::setups(const Order& order) const {
    std::vector<int> setups;
    for (const OrderedPass& each : order.passes)
        setups.push_back(need(each.pass).setup);
    return setups;
}

int OrderSpace::setup_changes(const Order& order) const {
    const std::vector<int> setups = this->setups(order);
    int count = 0;
    for (std::size_t k = 1; k < setups.size(); ++k)
        count += setups[k] != setups[k - 1];
    return count;
}

weld::Plan OrderSpace::plan(const Order& order) const {
    weld::Plan plan = base_;
    const std::vector<int> poses = this->poses(order);
    int pose = 0;
    bool fixed = !clamps_.empty();
    const auto free_clamps = [&] {
        for (const int clamp : clamps_)
            plan.moves.push_back({weld::ClampMove{clamp, false}, 0});
        fixed = false;
    };
    for (std::size_t k = 0; k < order.passes.size(); ++k) {
        const OrderedPass& each = order.passes[k];
        const bool turns = poses[k] != pose;
        if (each.wait > 0)
            plan.moves.push_back({weld::Wait{waits_s_[static_cast<std::size_t>(each.wait)], {}}, 0});
        if (fixed &&
            ((frees_clamps_ && order.free_before <= static_cast<int>(k)) || (turns && !part_->fixture.turns_with_part)))
            free_clamps();
        if (turns)
            plan.moves.push_back({weld::Turn{poses[k]}, 0});
        pose = poses[k];
        plan.moves.push_back({weld::WeldPass{each.pass, each.reversed, need(each.pass).card}, 0});
    }
    if (fixed && frees_clamps_)
        free_clamps();
    return plan;
}

Order OrderSpace::order_of(const weld::Plan& plan) const {
    Order order;
    double wait_s = 0;
    bool freed = false;
    for (const weld::Move& move : plan.moves) {
        if (const auto* wait = std::get_if<weld::Wait>(&move.what))
            wait_s += wait->time_s > 0 ? wait->time_s : waits_s_.back();
        if (const auto* clamp = std::get_if<weld::ClampMove>(&move.what); clamp && !clamp->fix && !freed) {
            freed = true;
            order.free_before = static_cast<int>(order.passes.size());
        }
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what)) {
            // The nearest of the waits that the space knows.
            const auto nearest =
                std::ranges::min_element(waits_s_, {}, [&](double known_s) { return std::abs(known_s - wait_s); });
            order.passes.push_back({weld->pass, weld->reversed, static_cast<int>(nearest - waits_s_.begin())});
            wait_s = 0;
        }
    }
    if (!freed)
        order.free_before = size();
    return order;
}

} // namespace holdtrue::order
