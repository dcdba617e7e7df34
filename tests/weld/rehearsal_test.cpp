// The rehearsal against the full simulation of the same plans.
#include "arc/read_shop.h"
#include "part/read_part.h"
#include "weld/read_plan.h"
#include "weld/rehearsal.h"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

using namespace holdtrue;

namespace {

struct Shipped {
    std::shared_ptr<const part::Part> part;
    std::shared_ptr<const arc::Shop> shop;
    weld::Plan plan;

    explicit Shipped(const std::string& name) {
        const std::filesystem::path root = HOLDTRUE_SOURCE_DIR;
        part = part::read_part(root / ("assets/parts/" + name + ".part.toml"));
        shop = arc::read_shop(root / "assets/shops/rookwood.shop.toml");
        plan = weld::read_plan(root / ("lessons/exercises/" + name + ".model.plan.toml"), *part, *shop);
    }
};

// The moves of a plan that weld, the other way round, with no waits.
weld::Plan backwards(weld::Plan plan) {
    std::vector<weld::Move> others;
    std::vector<std::size_t> welds;
    for (std::size_t k = 0; k < plan.moves.size(); ++k)
        if (std::holds_alternative<weld::WeldPass>(plan.moves[k].what))
            welds.push_back(k);
    for (std::size_t k = 0; k < welds.size() / 2; ++k)
        std::swap(plan.moves[welds[k]], plan.moves[welds[welds.size() - 1 - k]]);
    return plan;
}

// Every second pass with other dials and another gas.
weld::Plan with_two_cards(weld::Plan plan, const arc::Shop& shop) {
    arc::SettingCard other = plan.cards.front();
    other.name = "other";
    other.volts_v += 0.5;
    other.gas = shop.gases[other.gas == shop.gases[0].id ? 1 : 0].id;
    plan.cards = {plan.cards.front(), other};
    int card = 0;
    for (weld::Move& move : plan.moves)
        if (auto* weld = std::get_if<weld::WeldPass>(&move.what))
            weld->card = card = 1 - card;
    return plan;
}

// Gauges within an eighth of their limits.
void check_against_simulation(const Shipped& shipped, const weld::Rehearsal& rehearsal, const weld::Plan& plan,
                              const weld::Options& options) {
    const auto quick = rehearsal.weld(plan);
    const auto full = weld::simulate(shipped.part, shipped.shop, plan, options);
    REQUIRE(quick->moves.size() == full->moves.size());
    CHECK(quick->arc_s == doctest::Approx(full->arc_s));
    CHECK(quick->setup_changes() == full->setup_changes());
    for (std::size_t k = 0; k < full->moves.size(); ++k) {
        const weld::MoveOutcome &of_quick = quick->moves[k], &of_full = full->moves[k];
        CAPTURE(k);
        CHECK(of_quick.welded == of_full.welded);
        if (!of_full.welded)
            continue;
        CHECK(of_quick.end_s - of_quick.start_s == doctest::Approx(of_full.end_s - of_full.start_s).epsilon(1e-6));
        CHECK(of_quick.setup_change == of_full.setup_change);
        CHECK(std::abs(of_quick.interpass_k - of_full.interpass_k) <
              10 + 0.25 * (of_full.interpass_k - shipped.part->ambient_k));
    }
    for (std::size_t g = 0; g < full->gauges.size(); ++g) {
        CAPTURE(shipped.part->gauges[g].name);
        CHECK(std::abs(quick->gauges[g].value - full->gauges[g].value) < 0.125 * shipped.part->gauges[g].tolerance);
    }
}

} // namespace

TEST_CASE("a rehearsal reads the gauges of the full simulation within an eighth of their limits") {
    for (const std::string name : {"tee_coupon", "lap_strip", "ribbed_deck"}) {
        CAPTURE(name);
        const Shipped shipped(name);
        const double scale = 2;
        weld::Options options{.element_scale = scale, .condensed = weld::condense(*shipped.part, scale)};
        const weld::Rehearsal rehearsal(shipped.part, shipped.shop, shipped.plan, options.condensed, 2, options);
        REQUIRE(rehearsal.ok());
        for (const weld::Plan& plan : {shipped.plan, backwards(shipped.plan)})
            check_against_simulation(shipped, rehearsal, plan, options);
    }
}

TEST_CASE("so it does where settings and gas change from pass to pass") {
    const Shipped shipped("tee_coupon");
    weld::Options options{.element_scale = 2, .condensed = weld::condense(*shipped.part, 2)};
    const weld::Plan plan = with_two_cards(shipped.plan, *shipped.shop);
    const weld::Rehearsal rehearsal(shipped.part, shipped.shop, plan, options.condensed, 2, options);
    REQUIRE(rehearsal.ok());
    CHECK(rehearsal.weld(plan)->setup_changes() > 3);
    for (const weld::Plan& each : {plan, backwards(plan)})
        check_against_simulation(shipped, rehearsal, each, options);
}

TEST_CASE("a rehearsal gives the same bits again, and on any number of threads") {
    const Shipped shipped("tee_coupon");
    const auto condensed = weld::condense(*shipped.part, 2);
    const weld::Options options{.element_scale = 2};
    const weld::Rehearsal one(shipped.part, shipped.shop, shipped.plan, condensed, 1, options);
    const weld::Rehearsal three(shipped.part, shipped.shop, shipped.plan, condensed, 3, options);
    const auto first = one.weld(shipped.plan), again = one.weld(shipped.plan), other = three.weld(shipped.plan);
    for (std::size_t g = 0; g < first->gauges.size(); ++g) {
        CHECK(first->gauges[g].value == again->gauges[g].value);
        CHECK(first->gauges[g].value == other->gauges[g].value);
    }
}

TEST_CASE("a plan that goes on from what an earlier one had in common gives the same bits") {
    const Shipped shipped("rail_frame");
    const weld::Options options{.element_scale = 2};
    const weld::Rehearsal rehearsal(shipped.part, shipped.shop, shipped.plan, weld::condense(*shipped.part, 2), 1,
                                    options);
    weld::RehearsalMemory memory;
    const auto check = [&](const weld::Plan& plan) {
        const auto alone = rehearsal.weld(plan), remembering = rehearsal.weld(plan, nullptr, &memory);
        CHECK(remembering->total_s == alone->total_s);
        CHECK(remembering->arc_s == alone->arc_s);
        REQUIRE(remembering->moves.size() == alone->moves.size());
        for (std::size_t k = 0; k < alone->moves.size(); ++k)
            CHECK(remembering->moves[k].interpass_k == alone->moves[k].interpass_k);
        for (std::size_t g = 0; g < alone->gauges.size(); ++g)
            CHECK(remembering->gauges[g].value == alone->gauges[g].value);
    };
    // One pass after the other backwards: plans differ later and later, then earlier and earlier.
    const std::size_t count = shipped.plan.moves.size();
    for (std::size_t k = 0; k < 2 * count; ++k) {
        weld::Plan plan = shipped.plan;
        auto* weld = std::get_if<weld::WeldPass>(&plan.moves[k < count ? k : 2 * count - 1 - k].what);
        if (!weld || shipped.part->passes[static_cast<std::size_t>(weld->pass)].kind != part::PassKind::run)
            continue;
        weld->reversed = !weld->reversed;
        check(plan);
    }
    const weld::RehearsalPoint* known = memory.recall(shipped.plan.moves);
    REQUIRE(known);
    CHECK(known->moves.size() > count / 4);
}
