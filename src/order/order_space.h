// All orders in which a part can be welded: which pass after which, in which direction, after how long a wait, and
// when the clamps come off. Only orders that can be carried out belong to it:
//   tacks come before all runs and plugs, a layer after the layer below it, and every pass is welded once;
//   a pass is welded in a pose in which it can be reached, so the turns follow from the order;
//   in a fixture that does not turn, every clamp is freed before the first turn.
// An order has no turns of its own. plan() puts them in: the part stays as it lies for as long as the next pass can be
// reached, then goes to the pose in which the most passes to come can be reached one after another. For a given order
// no other choice needs fewer turns (each pose is held for the longest possible stretch).
#pragma once

#include "order/random.h"
#include "part/part.h"
#include "weld/plan.h"

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

namespace holdtrue::order {

struct OrderedPass {
    int pass = 0; // index into Part::passes
    bool reversed = false;
    int wait = 0; // index into OrderSpace::waits_s(): the wait before it
    friend bool operator==(const OrderedPass&, const OrderedPass&) = default;
};

struct Order {
    std::vector<OrderedPass> passes;
    int free_before = 0; // the clamps come off before this pass (passes.size(): after the last), or earlier for a turn
    friend bool operator==(const Order&, const Order&) = default;
};

class OrderSpace {
public:
    // The passes to be ordered, their cards and the waits come from a plan that check_plan() finds nothing wrong with.
    OrderSpace(std::shared_ptr<const part::Part> part, const weld::Plan& plan);

    const part::Part& part() const { return *part_; }
    int size() const { return static_cast<int>(passes_.size()); }
    const std::vector<double>& waits_s() const { return waits_s_; }

    bool valid(const Order& order) const;
    Order random(Random& random) const; // each next pass drawn from those that may follow
    // Every order there is, each once, those that begin alike one after another: all sequences and directions; and all
    // waits (but before the first pass, where nothing cools) and all times to free the clamps, or no waits and the
    // clamps off last. Ends when `visit` says false, and is false then.
    enum class Freedom { everything, sequence_and_direction };
    bool every_order(Freedom freedom, const std::function<bool(const Order&)>& visit) const;
    // log10 of how many there are, or more: layers may rule some out.
    double digits_of_count() const;
    Order order_of(const weld::Plan& plan) const; // of a plan that welds the same passes
    weld::Plan plan(const Order& order) const;

    // Moves each pass that stands too early to just behind what it needs, and changes nothing else.
    void repair(Order& order) const;
    // Whether `later` has to wait for `earlier`, directly.
    bool needs(int later, int earlier) const;
    int turns(const Order& order) const;
    int setup_changes(const Order& order) const; // how often something is set anew between two passes
    bool has_setup_changes() const { return has_setup_changes_; }

    // The poses for an order, one per pass, beginning in the pose the job starts in.
    std::vector<int> poses(const Order& order) const;
    // How the power source is set, one number per pass: between passes with the same number nothing is set anew.
    std::vector<int> setups(const Order& order) const;

private:
    struct Need {
        std::vector<int> earlier; // passes that come first
        std::uint64_t reach = 0;  // bit p: can be welded in pose p
        int card = 0;
        int setup = 0; // the first card that needs no change to this one
    };
    const Need& need(int pass) const { return needs_[static_cast<std::size_t>(pass)]; }

    std::shared_ptr<const part::Part> part_;
    weld::Plan base_;         // cards and predictions
    std::vector<int> passes_; // to be ordered
    std::vector<Need> needs_; // per pass of the part
    std::vector<double> waits_s_;
    std::vector<int> clamps_; // fixed at the start and freed by the plan, or by need
    bool frees_clamps_ = false, has_setup_changes_ = false;
};

} // namespace holdtrue::order
