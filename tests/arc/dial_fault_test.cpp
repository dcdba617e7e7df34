#include "arc/dial_fault.h"
#include "arc/propose.h"
#include "arc/read_card.h"
#include "arc/read_shop.h"
#include "arc/rule_book.h"

#include <doctest/doctest.h>

#include <filesystem>

using namespace holdtrue;
using namespace holdtrue::arc;

namespace {

// Marks 1 to 10 give 11 to 20 V, and 1 to 10 m/min.
std::shared_ptr<const Shop> shop_with(const std::string& volts_fault, const std::string& feed_fault = "") {
    const auto dial = [](const std::string& measured, const std::string& fault) {
        return "marks = [1, 10]\n" + measured + "\n" + fault + "\n";
    };
    return parse_shop("name = \"s\"\n[[power_source]]\nname = \"source\"\nvolts_low_v = 11\nvolts_high_v = 20\n"
                      "feed_low_m_per_min = 1\nfeed_high_m_per_min = 10\nrated_current_a = 200\nrated_duty = 0.4\n"
                      "[power_source.volts_dial]\n" +
                          dial("measured_v = [11, 20]", volts_fault) + "[power_source.feed_dial]\n" +
                          dial("measured_m_per_min = [1, 10]", feed_fault) +
                          "[[wire]]\nid = \"w\"\nclassification = \"ER70S-6\"\ndiameter_mm = 0.8\nprocess = \"135\"\n"
                          "[[gas]]\nid = \"g\"\nmix = \"75Ar 25CO2\"\n",
                      "s.shop.toml");
}

std::vector<text::Problem> problems_of(const Shop& shop, double volts, double feed_m_per_min) {
    SettingCard card;
    card.name = "c";
    card.wire = "w";
    card.gas = "g";
    card.volts_v = volts;
    card.wire_feed_m_per_s = feed_m_per_min / 60;
    return check_card(card, shop);
}

std::string complaint(const std::string& volts_fault) {
    try {
        shop_with(volts_fault);
    } catch (const text::InputError& error) {
        return error.what();
    }
    return "";
}

} // namespace

TEST_CASE("a stuck dial leaves one value, a range that works its two ends, a dead stretch both sides of it") {
    const auto sound = shop_with(""), stuck = shop_with("stuck = 5"), works = shop_with("works = [3, 7]"),
               dead = shop_with("dead = [4, 6]", "dead = [2, 8]");
    for (int mark = 1; mark <= 10; ++mark) {
        CAPTURE(mark);
        const double volts = 10 + mark;
        CHECK(problems_of(*sound, volts, 5).empty());
        CHECK(problems_of(*stuck, volts, 5).empty() == (mark == 5));
        CHECK(problems_of(*works, volts, 5).empty() == (mark >= 3 && mark <= 7));
        CHECK(problems_of(*dead, volts, 8).empty() == (mark != 5));
        CHECK(problems_of(*dead, 14, mark).empty() == (mark <= 2 || mark >= 8));
    }
    const auto told = problems_of(*dead, 15, 8);
    REQUIRE(told.size() == 1);
    CHECK(told[0].what.english().find("the volts dial is broken at 15.0 V") != std::string::npos);
    CHECK(told[0].fix.english().find("14.0 V and from 16.0 V") != std::string::npos);
}

TEST_CASE("what can be set lies nearest to what is wanted") {
    const auto dead = shop_with("dead = [4, 6]"), stuck = shop_with("stuck = 5");
    CHECK(settable_volts_v(dead->sources[0], 14.7) == doctest::Approx(14));
    CHECK(settable_volts_v(dead->sources[0], 15.3) == doctest::Approx(16));
    CHECK(settable_volts_v(dead->sources[0], 17) == doctest::Approx(17));
    CHECK(settable_volts_v(dead->sources[0], 99) == doctest::Approx(20));
    CHECK(settable_volts_v(stuck->sources[0], 11) == doctest::Approx(15));
}

TEST_CASE("the rule of the source's range knows of a broken place, so that no proposal lands there") {
    const RuleBook book = RuleBook::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/rules");
    const auto verdict = [&](const Shop& shop, double volts) {
        SettingCard card;
        card.wire = "w";
        card.gas = "g";
        card.gas_flow_m3_per_s = 2e-4;
        card.volts_v = volts;
        card.wire_feed_m_per_s = 0.1;
        card.travel_m_per_s = 0.006;
        card.tip_distance_m = 0.01;
        Section section;
        section.type = part::JointType::fillet;
        section.thickness_a_m = section.thickness_b_m = 0.003;
        section.size_m = 0.003;
        for (const Finding& finding : book.judge(card, shop, section))
            if (finding.rule == "volts.source_range")
                return finding.verdict;
        return Verdict::caution;
    };
    const auto dead = shop_with("dead = [4, 6]");
    CHECK(verdict(*dead, 14) == Verdict::pass);
    CHECK(verdict(*dead, 15) == Verdict::fail);
    CHECK(verdict(*dead, 16) == Verdict::pass);
}

TEST_CASE("settings are proposed that a broken dial can be set to") {
    const std::filesystem::path assets = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets";
    const RuleBook book = RuleBook::read(assets / "rules");
    const auto shop = read_shop(assets / "shops/rookwood_bay1.shop.toml");
    SettingCard card;
    card.wire = "solid_08";
    card.gas = "mix_75";
    card.gas_flow_m3_per_s = 2e-4;
    card.tip_distance_m = 0.010;
    Section section;
    section.thickness_a_m = section.thickness_b_m = 0.005;
    section.size_m = 0.004;
    const Proposal proposal = propose(book, card, *shop, section, {}, units::System::metric);
    REQUIRE(proposal.window);
    CHECK(proposal.window->card.volts_v == doctest::Approx(20.4));
}

TEST_CASE("a fault that makes no sense is told at its line") {
    CHECK(complaint("stuck = 12").find("s.shop.toml:13: mark 12 of dial") != std::string::npos);
    CHECK(complaint("works = [7, 3]").find("the marks do not rise") != std::string::npos);
    CHECK(complaint("dead = [1, 2, 3]").find("dead") != std::string::npos);
    CHECK(complaint("stuck = 2\ndead = [3, 4]").find("more than one fault") != std::string::npos);
}
