// Settings that the rules allow for a card of a part: each is judged anew.
#include "arc/read_shop.h"
#include "part/read_part.h"
#include "weld/allowed_cards.h"
#include "weld/starting_plan.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <set>

using namespace holdtrue;

namespace {

std::filesystem::path assets() { return std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets"; }

int cautions(const std::vector<arc::Finding>& findings) {
    return static_cast<int>(std::ranges::count(findings, arc::Verdict::caution, &arc::Finding::verdict));
}

} // namespace

TEST_CASE("settings allowed for a card break no rule, show no further caution and can be set") {
    const arc::RuleBook rules = arc::RuleBook::read();
    for (const auto& [part_name, shop_name] : {std::pair{"ribbed_deck", "rookwood"}, {"tee_coupon", "rookwood_bay1"}}) {
        CAPTURE(part_name);
        const auto part = part::read_part(assets() / "parts" / (std::string(part_name) + ".part.toml"));
        const auto shop = arc::read_shop(assets() / "shops" / (std::string(shop_name) + ".shop.toml"));
        const arc::PowerSource& source = shop->sources.front();
        const arc::SettingCard own = weld::proposed_plan(*part, *shop, rules).plan.cards.front();
        const arc::Section section = weld::sections_of(*part, own.groups).front();
        REQUIRE(weld::sections_of(*part, own.groups).size() == 1);
        const std::vector<arc::SettingCard> cards = weld::allowed_cards(*part, *shop, rules, own);
        REQUIRE(cards.size() > 20);

        std::set<std::string> wires, gases;
        double heat_j_per_m = 0;
        for (const arc::SettingCard& card : cards) {
            const std::vector<arc::Finding> findings = rules.judge(card, *shop, section);
            CHECK(arc::worst(findings) != arc::Verdict::fail);
            CHECK(cautions(findings) <= cautions(rules.judge(own, *shop, section)));
            CHECK(card.volts_v == doctest::Approx(std::clamp(card.volts_v, source.volts_low_v, source.volts_high_v)));
            CHECK(card.groups == own.groups);
            const double q = arc::arc_figures(card, *shop, section).heat_input_j_per_m;
            CHECK(q >= heat_j_per_m);
            heat_j_per_m = q;
            wires.insert(card.wire);
            gases.insert(card.gas);
        }
        CHECK(wires.size() > 1);
        CHECK(gases.size() > 1);
        const auto [slowest, fastest] = std::ranges::minmax(cards, {}, &arc::SettingCard::travel_m_per_s);
        CHECK(slowest.travel_m_per_s < 0.8 * own.travel_m_per_s);
        CHECK(fastest.travel_m_per_s > own.travel_m_per_s);
    }
}
