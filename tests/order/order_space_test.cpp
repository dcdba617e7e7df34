#include "order/changes.h"
#include "order/order_space.h"
#include "order/toy_part.h"
#include "weld/check_plan.h"
#include "weld/choose_card.h"

#include <doctest/doctest.h>

#include <set>

using namespace holdtrue;
using order::Order;
using order::OrderSpace;
using order::Random;

namespace {

// Moves of the plan that cannot be carried out; cards and shop are not looked at.
int impossible_moves(const weld::Plan& plan, const part::Part& part) {
    int count = 0;
    for (std::size_t k = 0; k < plan.moves.size(); ++k)
        count += weld::obstacle(plan.moves[k], weld::state_before(plan, part, k), part, plan.cards.size()).has_value();
    return count;
}

} // namespace

TEST_CASE("random orders and all changes of them can be carried out") {
    const auto part = order::toy::part(4, 4, true);
    const OrderSpace space(part, order::toy::plan(*part));
    Random random(7);
    for (int k = 0; k < 300; ++k) {
        Order order = space.random(random);
        for (int c = 0; c < 5; ++c)
            order::change(order, space, random);
        REQUIRE(space.valid(order));
        const weld::Plan plan = space.plan(order);
        CHECK(impossible_moves(plan, *part) == 0);
        CHECK(weld::state_before(plan, *part, plan.moves.size()).welded ==
              std::vector<bool>(part->passes.size(), true));
    }
}

TEST_CASE("an order made into a plan and back is the same order") {
    const auto part = order::toy::part(3, 3, true);
    const OrderSpace space(part, order::toy::plan(*part));
    Random random(11);
    for (int k = 0; k < 100; ++k) {
        Order order = space.random(random);
        order.passes[3].wait = 2;
        // A turn frees the clamps by itself; an order that frees them later says the same thing twice.
        order.free_before = 0;
        CHECK(space.order_of(space.plan(order)) == order);
    }
}

TEST_CASE("an order with a tack behind a run is not valid, and is repaired without disturbing the rest") {
    const auto part = order::toy::part(1, 3, true); // tack, 1, 2, 3
    const OrderSpace space(part, order::toy::plan(*part));
    Order order{{{3, false, 0}, {0, false, 0}, {2, true, 0}, {1, false, 0}}, 0};
    CHECK_FALSE(space.valid(order));
    space.repair(order);
    CHECK(order == Order{{{0, false, 0}, {3, false, 0}, {2, true, 0}, {1, false, 0}}, 0});
    CHECK(space.valid(order));
}

TEST_CASE("turns are as few as the order allows") {
    const auto part = order::toy::part(2, 2, false); // passes 0 1 lie in pose 0, 2 3 in pose 1
    const OrderSpace space(part, order::toy::plan(*part));
    CHECK(space.turns({{{0, false, 0}, {1, false, 0}, {2, false, 0}, {3, false, 0}}, 0}) == 1);
    CHECK(space.turns({{{0, false, 0}, {2, false, 0}, {1, false, 0}, {3, false, 0}}, 0}) == 3);
    CHECK(space.turns({{{2, false, 0}, {3, false, 0}, {0, false, 0}, {1, false, 0}}, 0}) == 2);
}

TEST_CASE("a change of settings is counted where something is set anew, not where another card is named") {
    const auto part = order::toy::part(1, 4, false);
    weld::Plan plan = order::toy::plan(*part);
    plan.cards.resize(3);
    plan.cards[1].travel_m_per_s = 0.01; // the hand's
    plan.cards[2].volts_v = 20;
    int card = 0;
    for (weld::Move& move : plan.moves)
        if (auto* weld = std::get_if<weld::WeldPass>(&move.what))
            weld->card = card++ % 3; // 0 1 2 0
    const OrderSpace space(part, plan);
    CHECK(space.has_setup_changes());
    CHECK(space.setup_changes({{{0, false, 0}, {1, false, 0}, {2, false, 0}, {3, false, 0}}, 0}) == 2);
    CHECK(space.setup_changes({{{0, false, 0}, {3, false, 0}, {1, false, 0}, {2, false, 0}}, 0}) == 1);
    CHECK_FALSE(OrderSpace(part, order::toy::plan(*part)).has_setup_changes());

    Random random(13);
    for (int k = 0; k < 300; ++k) {
        Order order = space.random(random);
        order::change(order, space, random);
        REQUIRE(space.valid(order));
        const weld::Plan made = space.plan(order);
        int changes = 0;
        for (std::size_t m = 0; m < made.moves.size(); ++m)
            changes += weld::setup_change_before(made, m).any();
        CHECK(space.setup_changes(order) == changes);
    }
}

TEST_CASE("random numbers are uniform and repeatable") {

    Random random(0);
    std::set<std::uint64_t> seen;
    double sum = 0;
    std::array<int, 6> count{};
    for (int k = 0; k < 60000; ++k) {
        sum += random.unit();
        ++count[static_cast<std::size_t>(random.below(6))];
        seen.insert(random.next());
    }
    CHECK(seen.size() == 60000);
    CHECK(sum / 60000 == doctest::Approx(0.5).epsilon(0.01));
    for (const int each : count)
        CHECK(each == doctest::Approx(10000).epsilon(0.04)); // four standard deviations of a binomial count
    CHECK(Random(5, 1).next() == Random(5, 1).next());
    CHECK(Random(5, 1).next() != Random(5, 2).next());
}
