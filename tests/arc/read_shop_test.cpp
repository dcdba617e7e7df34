#include "arc/read_card.h"
#include "arc/read_shop.h"

#include <doctest/doctest.h>

#include <filesystem>

using namespace holdtrue::arc;

TEST_CASE("the shipped shop is read as written") {
    const auto shop = read_shop(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/shops/rookwood.shop.toml");
    REQUIRE(shop->sources.size() == 1);
    const PowerSource& source = shop->sources[0];
    REQUIRE(source.feed_dial.has_value());
    // 190 mm in 6 s is 1.9 m/min.
    CHECK(source.feed_dial->points[0].value == doctest::Approx(1.9 / 60));
    CHECK(source.feed_dial->points[0].mark == 10);
    CHECK(source.volts_dial->points[9].value == doctest::Approx(28.5));
    REQUIRE(shop->wires.size() == 3);
    CHECK(shop->wires[2].process == Process::fcaw_gas_136);
    CHECK(shop->wires[0].diameter_m == doctest::Approx(0.0008));
    REQUIRE(shop->gases.size() == 3);
    CHECK(shop->gases[0].argon == doctest::Approx(0.75));
    CHECK(shop->gases[1].co2 == doctest::Approx(0.08));
    CHECK(shop->gases[2].co2 == doctest::Approx(1));
}

TEST_CASE("the 6-second check as printed in a workshop hand-out") {
    // 25 in of wire in 6 s is 250 in/min (common practice, no source; the arithmetic is exact).
    const auto shop = parse_shop(R"(
name = "x"
[[power_source]]
name = "s"
volts_low_v = 14
volts_high_v = 30
feed_low_in_per_min = 50
feed_high_in_per_min = 600
rated_current_a = 200
rated_duty = 0.4
feed_dial = { marks = [1, 2], fed_in_6_s_in = [10, 25] }
[[wire]]
id = "w"
classification = "ER70S-6"
diameter_in = 0.03
process = "135"
)",
                                 "x.shop.toml");
    CHECK(shop->sources[0].feed_dial->points[1].value == doctest::Approx(250 * 0.0254 / 60));
}

TEST_CASE("a card may give dial marks in place of volts and feed") {
    const auto shop = read_shop(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/shops/rookwood.shop.toml");
    holdtrue::text::Document document = holdtrue::text::Document::parse(R"(
name = "a"
wire = "solid_08"
gas = "mix_75"
gas_flow_l_per_min = 12
volts_mark = 4.5
wire_feed_mark = 55
travel_mm_per_min = 300
tip_distance_mm = 10
)",
                                                                        "card.toml");
    holdtrue::text::Table root = document.root();
    const SettingCard card = read_card(root, *shop, {});
    CHECK_NOTHROW(document.finish());
    CHECK(card.volts_v == doctest::Approx((17.8 + 19.0) / 2));
    CHECK(card.wire_feed_m_per_s == doctest::Approx((0.680 + 0.820) / 2 / 6));
    CHECK(check_card(card, *shop).empty());
}
