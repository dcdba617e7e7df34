#include "arc/bench_card.h"
#include "arc/read_shop.h"
#include "arc/setup_change.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

using namespace holdtrue::arc;

TEST_CASE("what the hand does takes no time at the power source, dials, gas and wire each take theirs") {
    Shop shop = bench::shop();
    shop.change_dials_s = 20;
    shop.change_wire_s = 240;
    shop.change_gas_s = 90;
    const SettingCard before = bench::card();
    const auto change_to = [&](auto&& edit) {
        SettingCard after = before;
        edit(after);
        const SetupChange change = setup_change(before, after);
        CHECK(change == setup_change(after, before));
        return time_s(change, shop);
    };
    CHECK(change_to([](SettingCard& card) {
              card.name = "other", card.groups = {"bush"}, card.travel_m_per_s *= 2, card.tip_distance_m = 0.015;
              card.aim = 0.7, card.motion = TorchMotion::drag, card.preheat_k = 400, card.plug_s = 3;
          }) == 0);
    CHECK(change_to([](SettingCard& card) { card.volts_v += 1; }) == 20);
    CHECK(change_to([](SettingCard& card) { card.wire_feed_m_per_s *= 1.1; }) == 20);
    CHECK(change_to([](SettingCard& card) { card.gas_flow_m3_per_s *= 1.1; }) == 20);
    CHECK(change_to([](SettingCard& card) { card.volts_v += 1, card.wire_feed_m_per_s *= 1.1; }) == 20);
    CHECK(change_to([](SettingCard& card) { card.gas = "m20"; }) == 90);
    CHECK(change_to([](SettingCard& card) { card.wire = "s10"; }) == 240);
    CHECK(change_to([](SettingCard& card) { card.polarity = Polarity::electrode_negative; }) == 240);
    CHECK(change_to([](SettingCard& card) { card.wire = "s10", card.gas = "m20", card.volts_v += 1; }) == 350);
}

TEST_CASE("a change is told in words") {
    CHECK(text_of({}).empty());
    CHECK(text_of({.dials = true}) == "set the dials");
    CHECK(text_of({.gas = true}) == "change the gas");
    CHECK(text_of({.wire = true, .gas = true, .dials = true}) == "change wire and gas, set the dials");
}

TEST_CASE("a shop says how long its changes take") {
    const std::string shop = R"(
name = "x"
change_wire_min = 8
change_gas_s = 60
[[power_source]]
name = "s"
volts_low_v = 14
volts_high_v = 30
feed_low_m_per_min = 1
feed_high_m_per_min = 16
rated_current_a = 200
rated_duty = 0.4
[[wire]]
id = "w"
classification = "ER70S-6"
diameter_mm = 0.8
process = "135"
)";
    const auto read = parse_shop(shop, "x.shop.toml");
    CHECK(read->change_wire_s == doctest::Approx(480));
    CHECK(read->change_gas_s == doctest::Approx(60));
    CHECK(read->change_dials_s == Shop{}.change_dials_s);
    CHECK_THROWS_AS(parse_shop("change_dials_s = -5\n" + shop, "x.shop.toml"), holdtrue::text::InputError);
}
