#include "arc/read_shop.h"
#include "part/read_part.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

using namespace holdtrue;

namespace {

struct Shipped {
    std::shared_ptr<const part::Part> part;
    std::shared_ptr<const arc::Shop> shop;
    weld::Plan plan;
};

Shipped tee() {
    const std::filesystem::path root = HOLDTRUE_SOURCE_DIR;
    Shipped shipped;
    shipped.part = part::read_part(root / "assets/parts/tee_coupon.part.toml");
    shipped.shop = arc::read_shop(root / "assets/shops/rookwood.shop.toml");
    shipped.plan = weld::read_plan(root / "lessons/exercises/tee_coupon.model.plan.toml", *shipped.part, *shipped.shop);
    return shipped;
}

const weld::Options coarse{.element_scale = 2};

} // namespace

TEST_CASE("an outcome tells of every move, and every joule is accounted for") {
    const Shipped shipped = tee();
    const auto outcome = weld::simulate(shipped.part, shipped.shop, shipped.plan, coarse);
    REQUIRE(outcome->moves.size() == shipped.plan.moves.size());
    CHECK(outcome->status == weld::Status::finished);
    CHECK(std::abs(outcome->energy.error()) < 1e-3); // design: within 0.1 %
    double clock_s = 0, heat_j = 0;
    for (std::size_t k = 0; k < outcome->moves.size(); ++k) {
        const weld::MoveOutcome& move = outcome->moves[k];
        CHECK(move.start_s == doctest::Approx(clock_s));
        CHECK(move.end_s > move.start_s);
        clock_s = move.end_s;
        const bool welded = std::holds_alternative<weld::WeldPass>(shipped.plan.moves[k].what);
        CHECK(move.welded == welded);
        REQUIRE(move.gauge_contribution.size() == shipped.part->gauges.size());
        if (!welded)
            continue;
        heat_j += move.heat_j;
        CHECK(move.peak_k > move.interpass_k);
        CHECK(move.interpass_k >= shipped.part->ambient_k - 0.01);
        // A run brings its power for as long as it takes; the clock holds the arc and the step up to it.
        CHECK(move.heat_j <= move.arc.net_power_w * (move.end_s - move.start_s));
    }
    CHECK(outcome->energy.brought_j == doctest::Approx(heat_j).epsilon(1e-6));
    CHECK(outcome->total_s > clock_s);
    for (const weld::GaugeOutcome& gauge : outcome->gauges)
        CHECK(gauge.after_move.size() == shipped.plan.moves.size());
    for (std::size_t k = 1; k < outcome->frames.size(); ++k)
        CHECK(outcome->frames[k].time_s >= outcome->frames[k - 1].time_s);
    float hottest = 0;
    for (const float kelvin : outcome->frames.back().temperature_k)
        hottest = std::max(hottest, kelvin);
    CHECK(hottest <= 303.2F);
}

TEST_CASE("the same plan gives the same outcome to the last bit") {
    const Shipped shipped = tee();
    const auto one = weld::simulate(shipped.part, shipped.shop, shipped.plan, coarse);
    const auto two = weld::simulate(shipped.part, shipped.shop, shipped.plan, coarse);
    CHECK(one->peak_k == two->peak_k);
    CHECK(one->total_s == two->total_s);
    for (std::size_t g = 0; g < one->gauges.size(); ++g)
        CHECK(one->gauges[g].value == two->gauges[g].value);
    REQUIRE(one->frames.size() == two->frames.size());
    for (std::size_t k = 0; k < one->frames.size(); ++k)
        CHECK(one->frames[k].temperature_k == two->frames[k].temperature_k);
}

TEST_CASE("a stop request leaves an outcome that says so") {
    const Shipped shipped = tee();
    std::stop_source stop;
    stop.request_stop();
    weld::Progress progress;
    const auto outcome = weld::simulate(shipped.part, shipped.shop, shipped.plan, coarse, &progress, stop.get_token());
    CHECK(outcome->status == weld::Status::cancelled);
    CHECK(outcome->moves.empty());
    CHECK(outcome->gauges.size() == shipped.part->gauges.size());
}

TEST_CASE("waiting cools and preheating warms the start of a pass") {
    Shipped shipped = tee();
    std::vector<weld::Move> welds;
    for (const weld::Move& move : shipped.plan.moves)
        if (std::holds_alternative<weld::WeldPass>(move.what))
            welds.push_back(move);
    const auto interpass_of_last = [&](const weld::Plan& plan) {
        return weld::simulate(shipped.part, shipped.shop, plan, {.element_scale = 2, .distortion = false})
            ->moves.back()
            .interpass_k;
    };
    weld::Plan plan = shipped.plan;
    plan.moves = welds;
    const double at_once = interpass_of_last(plan);
    plan.moves.insert(plan.moves.end() - 1, weld::Move{weld::Wait{300, {}}, 0});
    CHECK(interpass_of_last(plan) < at_once);
    plan.cards.front().preheat_k = 430;
    CHECK(interpass_of_last(plan) > 429);
}

TEST_CASE("setting other dials before a pass takes the shop's time, in which the part cools as in a wait") {
    const Shipped shipped = tee();
    arc::Shop slow = *shipped.shop, quick = *shipped.shop;
    slow.change_dials_s = 40;
    quick.change_dials_s = 0;
    weld::Plan plan = shipped.plan, waits = shipped.plan;
    plan.cards.push_back(plan.cards.front());
    plan.cards.back().name = "other";
    plan.cards.back().volts_v += 0.5;
    std::erase_if(plan.moves,
                  [](const weld::Move& move) { return !std::holds_alternative<weld::WeldPass>(move.what); });
    for (std::size_t k = 0; k < plan.moves.size(); ++k)
        std::get<weld::WeldPass>(plan.moves[k].what).card = k % 3 == 2; // 0 0 1 0 0 1
    waits.cards = plan.cards;
    waits.moves.clear();
    for (std::size_t k = 0; k < plan.moves.size(); ++k) {
        if (k % 3 == 2 || (k % 3 == 0 && k > 0))
            waits.moves.push_back({weld::Wait{40, {}}, 0});
        waits.moves.push_back(plan.moves[k]);
    }
    const weld::Options options{.element_scale = 2, .fields = false};
    const auto changed = weld::simulate(shipped.part, std::make_shared<const arc::Shop>(slow), plan, options);
    const auto waited = weld::simulate(shipped.part, std::make_shared<const arc::Shop>(quick), waits, options);
    const int changes = static_cast<int>(waits.moves.size() - plan.moves.size());
    REQUIRE(changes > 2);
    CHECK(changed->setup_changes() == changes);
    CHECK(changed->setup_change_s() == doctest::Approx(40 * changes));
    CHECK(waited->setup_changes() == changes);
    CHECK(waited->setup_change_s() == 0);
    CHECK(changed->total_s == doctest::Approx(waited->total_s).epsilon(1e-3));
    CHECK(changed->moves.front().setup_change_s == 0);
    for (std::size_t k = 0, w = 0; k < plan.moves.size(); ++k, ++w) {
        CHECK(changed->moves[k].setup_change_s == (k % 3 != 1 && k > 0 ? 40 : 0));
        w += !waited->moves[w].welded;
        CHECK(changed->moves[k].interpass_k == doctest::Approx(waited->moves[w].interpass_k).epsilon(1e-3));
    }
    for (std::size_t g = 0; g < changed->gauges.size(); ++g)
        CHECK(std::abs(changed->gauges[g].value - waited->gauges[g].value) < 0.02 * shipped.part->gauges[g].tolerance);
}
