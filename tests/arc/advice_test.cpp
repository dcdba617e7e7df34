// Advice is checked: whoever sets what a finding says, as it is written, meets the rule it comes from.
#include "arc/dial_fault.h"
#include "arc/read_shop.h"
#include "arc/rule_book.h"
#include "random_cards.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

using namespace holdtrue;
using namespace holdtrue::arc;
using bench::Dice;
using units::mm;

namespace {

const std::filesystem::path assets = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets";

const RuleBook& book() {
    static const RuleBook read = RuleBook::read(assets / "rules");
    return read;
}

// The wires and gases of the bench with a real source, its dials now and then broken.
Shop shop_with_source(Dice& dice) {
    Shop shop = bench::shop();
    if (dice.chance(0.2))
        return shop;
    shop.sources = read_shop(assets / "shops/rookwood.shop.toml")->sources;
    constexpr double endless = 1e9;
    if (dice.chance(0.2))
        break_volts_dial(shop.sources[0], {{{19, 22}}});
    if (dice.chance(0.2))
        break_feed_dial(shop.sources[0], {{{-endless, 4.3 / 60}, {9.6 / 60, endless}}});
    return shop;
}

// Near what is right: a card that suits 3 mm, out by up to a third, on ordinary sheets.
SettingCard near_card(Dice& dice, const Shop& shop) {
    SettingCard card = bench::card();
    const Wire& wire = dice.one_of(shop.wires);
    card.wire = wire.id;
    card.process = wire.process;
    card.gas = wire.process == Process::fcaw_self_114 ? "" : dice.one_of(shop.gases).id;
    for (double* value :
         {&card.volts_v, &card.wire_feed_m_per_s, &card.travel_m_per_s, &card.tip_distance_m, &card.gas_flow_m3_per_s})
        *value *= dice.between(0.67, 1.5);
    card.aim = dice.between(0.2, 0.8);
    card.preheat_k = dice.chance(0.2) ? dice.between(300, 480) : 0;
    return card;
}

Section near_section(Dice& dice) {
    Section section = bench::random_section(dice);
    section.thickness_a_m = dice.between(0.8, 12) * mm;
    section.thickness_b_m = dice.chance(0.5) ? section.thickness_a_m : dice.between(0.8, 12) * mm;
    section.size_m = dice.chance(0.5) ? dice.between(2, 12) * mm : 0;
    section.root_gap_m = dice.chance(0.3) ? dice.between(0, 3) * mm : 0;
    section.start_k = 293.15;
    return section;
}

// The unit and number in "... to 8.8 m/min ..." or "make the hole 8.5 mm".
double written_number(const std::string& change) {
    const std::size_t after_to = change.find(" to ");
    const std::size_t digit = change.starts_with("make ") ? change.find_first_of("0123456789") : after_to + 4;
    REQUIRE(digit < change.size());
    return std::stod(change.substr(digit));
}

double si_of(Adjustable what, double written, units::System system) {
    const auto to_si = [&](const units::Dimension& dimension) {
        return units::workshop_unit(dimension, system).to_si(written);
    };
    switch (what) {
    case Adjustable::wire_feed:
        return to_si(units::wire_feed);
    case Adjustable::volts:
        return to_si(units::voltage);
    case Adjustable::current:
        return to_si(units::current);
    case Adjustable::travel:
        return to_si(units::travel);
    case Adjustable::gas_flow:
        return to_si(units::flow);
    case Adjustable::preheat:
        return to_si(units::temperature);
    case Adjustable::aim:
        return written;
    case Adjustable::plug_time:
        return to_si(units::time);
    case Adjustable::groove_angle:
        return to_si(units::angle);
    default:
        return to_si(units::length);
    }
}

struct Count {
    int followed = 0, no_way = 0;
};

void follow(const SettingCard& card, const Shop& shop, const Section& section, units::System system, Count& count) {
    const std::vector<Finding> findings = book().judge(card, shop, section, system);
    for (const Finding& finding : findings) {
        CAPTURE(finding.rule);
        const std::string change = finding.change.english();
        CAPTURE(change);
        CHECK((finding.verdict != Verdict::pass || finding.advised.empty()));
        if (change.find("alone cannot cure it") != std::string::npos) {
            CHECK(finding.advised.empty());
            ++count.no_way;
        }
        if (finding.advised.empty())
            continue;
        SettingCard changed = card;
        Section joint = section;
        // As it is written, not as it is stored.
        const Setting& first = finding.advised.front();
        const double typed = si_of(first.what, written_number(change), system);
        CHECK(typed == doctest::Approx(first.value).epsilon(1e-9));
        put({first.what, typed}, changed, joint);
        for (std::size_t k = 1; k < finding.advised.size(); ++k)
            put(finding.advised[k], changed, joint);
        // It can be set.
        if (!shop.sources.empty()) {
            CHECK((first.what != Adjustable::volts ||
                   settable_volts_v(shop.sources[0], changed.volts_v) == doctest::Approx(changed.volts_v)));
            CHECK((first.what != Adjustable::wire_feed ||
                   settable_feed_m_per_s(shop.sources[0], changed.wire_feed_m_per_s) ==
                       doctest::Approx(changed.wire_feed_m_per_s)));
        }
        const auto anew = book().verdicts(changed, shop, joint, setup_figures(changed, shop, joint));
        const auto same = std::ranges::find(anew, finding.rule, [](const auto& judged) { return judged.rule->id; });
        REQUIRE(same != anew.end());
        CHECK(same->verdict == Verdict::pass);
        // What it breaks is said.
        const bool breaks = std::ranges::any_of(anew, [&](const RuleBook::Judged& now) {
            const auto before = std::ranges::find(findings, now.rule->id, &Finding::rule);
            return now.verdict == Verdict::fail && (before == findings.end() || before->verdict != Verdict::fail);
        });
        CHECK(breaks == (change.find("would break another rule") != std::string::npos));
        ++count.followed;
    }
}

} // namespace

TEST_CASE("following advice, as it is written, meets the rule it comes from: cards near the mark") {
    Dice dice;
    Count count;
    for (int i = 0; i < 800; ++i) {
        CAPTURE(i);
        const Shop shop = shop_with_source(dice);
        const SettingCard card = near_card(dice, shop);
        follow(card, shop, near_section(dice), i % 4 ? units::System::metric : units::System::imperial, count);
    }
    CHECK(count.followed > 1000);
    CHECK(count.no_way < count.followed / 4);
}

TEST_CASE("following advice, as it is written, meets the rule it comes from: silly cards") {
    Dice dice;
    Count count;
    for (int i = 0; i < 300; ++i) {
        CAPTURE(i);
        const Shop shop = shop_with_source(dice);
        follow(bench::random_card(dice, shop), shop, bench::random_section(dice),
               i % 4 ? units::System::metric : units::System::imperial, count);
    }
    CHECK(count.followed > 300);
}

TEST_CASE("advice is in steps that a hand sets") {
    const Shop shop = [] {
        Shop all = bench::shop();
        all.sources = read_shop(assets / "shops/rookwood.shop.toml")->sources;
        return all;
    }();
    const auto change = [&](const SettingCard& card, const char* rule) {
        const auto findings = book().judge(card, shop, bench::section(3, 3));
        const auto found = std::ranges::find(findings, std::string(rule), &Finding::rule);
        REQUIRE(found != findings.end());
        return found->change.english();
    };
    SettingCard card = bench::card();
    card.wire_feed_m_per_s = 3.0 / 60;
    card.volts_v = 15.5;
    // 3 mm asks for 104 A and more; marks by the shop's own 6-second check: 430 mm at 30, 550 mm at 40, so 5 m/min
    // is 36.
    const std::string feed = change(card, "current.by_thickness");
    CHECK(feed.find("raise the wire feed from 3 to ") == 0);
    const double to = std::stod(feed.substr(30));
    CHECK(to * 10 == doctest::Approx(std::round(to * 10)).epsilon(1e-12));
    CHECK(feed.find(" m/min (dial mark ") != std::string::npos);

    card = bench::card();
    card.volts_v = 15;
    const std::string volts = change(card, "volts.arc_holds");
    CHECK(volts.find("raise the volts from 15 to ") == 0);
    CHECK(std::fmod(2 * std::stod(volts.substr(27)), 1) == 0);
    CHECK(volts.find(" V (dial mark ") != std::string::npos);

    card = bench::card();
    card.gas_flow_m3_per_s = 3.3 * units::litre_per_minute;
    const std::string flow = change(card, "gas.least_flow");
    CHECK(flow.find("raise the gas flow from 3.3 to ") == 0);
    CHECK(std::fmod(std::stod(flow.substr(31)), 1) == 0);
}

TEST_CASE("a change is one that a rounded figure shows, where such a one will do") {
    const Shop shop;
    SettingCard card = bench::card();
    card.wire_feed_m_per_s = 8.75 / 60; // a field shows 8.8
    const auto settled = [&](double least, double most) {
        const auto met = [&](const Setting& setting) {
            return setting.value >= least / 60 - 1e-9 && setting.value <= most / 60 + 1e-9;
        };
        const auto found = settle(Remedy(Adjustable::wire_feed, 8.76 / 60), card, shop, bench::section(3, 3),
                                  units::System::metric, met);
        REQUIRE(found);
        return found->value * 60;
    };
    CHECK(settled(8.76, 12) == doctest::Approx(8.9));
    CHECK(settled(8.76, 8.85) == doctest::Approx(8.8)); // nothing else meets the rule
}

TEST_CASE("rules that ask for the same dial ask for one setting of it, where one meets them all") {
    Dice dice;
    int agreed = 0;
    for (int i = 0; i < 300; ++i) {
        CAPTURE(i);
        const Shop shop = shop_with_source(dice);
        const SettingCard card = near_card(dice, shop);
        const Section section = near_section(dice);
        const auto findings = book().judge(card, shop, section);
        for (const Finding& one : findings)
            for (const Finding& other : findings) {
                if (one.rule == other.rule || one.advised.empty() || other.advised.empty() ||
                    one.advised.front().what != other.advised.front().what)
                    continue;
                if (one.advised.front().value == other.advised.front().value) {
                    ++agreed;
                    continue;
                }
                // Neither's setting meets all that ask for this dial.
                SettingCard changed = card;
                Section joint = section;
                put(one.advised.front(), changed, joint);
                const auto anew = book().verdicts(changed, shop, joint, setup_figures(changed, shop, joint));
                CHECK(std::ranges::any_of(findings, [&](const Finding& asks) {
                    if (asks.advised.empty() || asks.advised.front().what != one.advised.front().what)
                        return false;
                    const auto same =
                        std::ranges::find(anew, asks.rule, [](const auto& judged) { return judged.rule->id; });
                    return same == anew.end() || same->verdict != Verdict::pass; // or it is no longer asked
                }));
            }
    }
    CHECK(agreed > 20);
}
