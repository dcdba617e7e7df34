// Near copies: found through the changes that a neighbour makes, and not where orders are too plain to tell.
#include "grading/read_exercise.h"
#include "order/order_space.h"
#include "record/near_copy.h"
#include "weld/read_plan.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>

using namespace holdtrue;
using record::near_copy;

namespace {

struct Given {
    explicit Given(const std::string& name)
        : exercise(grading::read_exercise(folder() / (name + ".exercise.toml"))),
          plan(weld::read_plan(folder() / (name + ".model.plan.toml"), *exercise.part, *exercise.shop)) {}
    static std::filesystem::path folder() { return std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises"; }
    grading::Exercise exercise;
    weld::Plan plan;
};

std::vector<std::size_t> places_of_welds(const weld::Plan& plan) {
    std::vector<std::size_t> places;
    for (std::size_t k = 0; k < plan.moves.size(); ++k)
        if (std::holds_alternative<weld::WeldPass>(plan.moves[k].what))
            places.push_back(k);
    return places;
}

std::string told(const weld::Plan& first, const weld::Plan& plan) {
    const auto found = near_copy(first, "anna.plan.toml", plan);
    return found ? found->told.english() : "";
}

} // namespace

TEST_CASE("a copy with a card renamed, a wait or a setting changed, or passes swapped is told with what differs") {
    const Given given("lift_arm");
    REQUIRE(record::choices_in(given.plan) >= record::telling_choices);

    weld::Plan renamed = given.plan;
    renamed.cards[0].name = "mine";
    renamed.title = "mine too";
    CHECK(told(given.plan, renamed) == "same order and settings as anna.plan.toml; only names differ");

    weld::Plan first = given.plan;
    first.moves.insert(first.moves.begin() + 3, {weld::Wait{30, {}}, 0});
    first.moves.insert(first.moves.begin() + 9, {weld::Wait{50, {}}, 0});
    weld::Plan waits = first;
    std::get<weld::Wait>(waits.moves[9].what).time_s = 51;
    CHECK(told(first, waits) == "same order as anna.plan.toml; only this differs: wait 2: 50 s, 51 s");

    weld::Plan hotter = given.plan;
    hotter.cards[1].volts_v += 0.1;
    hotter.cards[1].wire_feed_m_per_s *= 1.1;
    const std::string of_card = told(given.plan, hotter);
    CHECK_MESSAGE(of_card.find("volts of card '" + given.plan.cards[1].name + "': ") != std::string::npos, of_card);
    CHECK(near_copy(given.plan, "", hotter)->differences == 2);

    const auto welds = places_of_welds(given.plan);
    weld::Plan swapped = given.plan;
    std::swap(swapped.moves[welds[20]].what, swapped.moves[welds[21]].what);
    const std::string of_order = told(given.plan, swapped);
    CHECK_MESSAGE(of_order.find("passes 21 to 22 of the order") != std::string::npos, of_order);

    weld::Plan left_out = given.plan;
    left_out.moves.erase(left_out.moves.begin() + static_cast<std::ptrdiff_t>(welds[10]));
    CHECK(told(given.plan, left_out).find("of the order") != std::string::npos);
}

TEST_CASE("orders found on one's own, and orders that hold few choices, are no near copies") {
    const Given given("lift_arm");
    const order::OrderSpace space(given.exercise.part, given.plan);
    order::Random random(5);
    for (int k = 0; k < 20; ++k)
        CHECK_FALSE(near_copy(given.plan, "", space.plan(space.random(random))));

    // Pass after pass as the part lists them, with one card: whoever does not think about the order welds it so.
    weld::Plan listed = given.plan;
    listed.moves.clear();
    for (int pass = 0; pass < static_cast<int>(given.exercise.part->passes.size()); ++pass)
        listed.moves.push_back({weld::WeldPass{pass, false, 0}, 0});
    CHECK(record::choices_in(listed) <= 2);
    CHECK_FALSE(near_copy(listed, "", listed));

    const Given small("tee_coupon");
    CHECK(record::choices_in(small.plan) < record::telling_choices);
    CHECK_FALSE(near_copy(small.plan, "", small.plan));
}
