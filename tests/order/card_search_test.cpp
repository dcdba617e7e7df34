// The search over setting cards against trying every one, and on the deck whose middling card no order helps.
#include "grading/read_exercise.h"
#include "order/card_search.h"
#include "weld/allowed_cards.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>

using namespace holdtrue;
using namespace holdtrue::order;

namespace {

// An exercise on a coarse mesh.
struct Coarse {
    grading::Exercise exercise;
    weld::ProposedPlan proposed;
    weld::Options options{.element_scale = 2, .fields = false, .sections = false};

    explicit Coarse(const std::string& name)
        : exercise(grading::read_exercise(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises" /
                                          (name + ".exercise.toml"))),
          proposed(weld::proposed_plan(*exercise.part, *exercise.shop, *exercise.rules)) {
        options.condensed = weld::condense(*exercise.part, options.element_scale);
    }

    double worst(const weld::Plan& plan) const {
        const auto outcome = weld::simulate(exercise.part, exercise.shop, plan, options);
        const OrderSpace space(exercise.part, plan);
        return worst_share(*exercise.part, finding_of(exercise, space, space.order_of(plan), *outcome));
    }
};

} // namespace

TEST_CASE("the search over cards finds the card that trying every one finds") {
    const Coarse tee("tee_coupon");
    weld::Plan plan = tee.proposed.plan;
    REQUIRE(plan.cards.size() == 1);
    const arc::SettingCard own = plan.cards.front();
    double least = tee.worst(plan);
    const std::vector<arc::SettingCard> all =
        weld::allowed_cards(*tee.exercise.part, *tee.exercise.shop, *tee.exercise.rules, own);
    for (const arc::SettingCard& card : all) {
        plan.cards.front() = card;
        least = std::min(least, tee.worst(plan));
    }
    for (const int threads : {1, 2}) {
        const std::vector<CardTrial> trials = try_cards(tee.exercise, tee.proposed.plan, 0, tee.options, threads);
        CHECK(trials.size() < all.size() / 2);
        CHECK(trials.front().worst == least);
        plan.cards.front() = trials.front().card;
        CHECK(tee.worst(plan) == least);
    }
}

TEST_CASE("where no order helps the proposed card, another one that the rules allow brings the limits within reach") {
    const Coarse deck("ribbed_deck");
    const auto rehearse = [&](const weld::Plan& plan) {
        return std::make_unique<weld::Rehearsal>(deck.exercise.part, deck.exercise.shop, plan, deck.options.condensed,
                                                 2, deck.options);
    };
    SearchOptions search;
    search.tries = 100;
    search.threads = 2;
    const std::optional<CardChoice> choice = choose_cards(deck.exercise, deck.proposed, deck.options, rehearse, search);
    REQUIRE(choice);
    CHECK(choice->nearest_as_proposed > 1.2);
    CHECK(choice->nearest < 1);
    CHECK(choice->tried > 12);
    CHECK(deck.worst(choice->plan) < 1);
    for (const arc::Section& section : weld::sections_of(*deck.exercise.part, choice->plan.cards.front().groups))
        CHECK(arc::worst(deck.exercise.rules->judge(choice->plan.cards.front(), *deck.exercise.shop, section)) ==
              arc::Verdict::pass);

    // With that card the limits are near enough from the start: nothing else is tried.
    const std::optional<CardChoice> again =
        choose_cards(deck.exercise, {choice->plan, {}}, deck.options, rehearse, search);
    REQUIRE(again);
    CHECK(again->tried == 0);
    CHECK(again->nearest <= choice->nearest);
}
