#include "arc/propose.h"
#include "bench_card.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <random>

using namespace holdtrue;
using namespace holdtrue::arc;
using units::mm;

namespace {

const RuleBook& book() {
    static const RuleBook read = RuleBook::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" / "rules");
    return read;
}

// Nothing set but wire and gas.
SettingCard open_card() {
    SettingCard card = bench::card();
    card.volts_v = card.wire_feed_m_per_s = card.travel_m_per_s = 0;
    return card;
}

// Any wire and gas of the usual ones for mild steel.
Window any_wire(double plate_mm) {
    Shop shop = bench::shop();
    shop.gases = {bench::named("mix", "75Ar 25CO2"), bench::named("m21", "82Ar 18CO2")};
    const Section section = bench::section(plate_mm, plate_mm);
    const SettingCard card = choose_consumables(book(), open_card(), shop, section, {}, {true, true, true});
    const Proposal proposal = propose(book(), card, shop, section);
    REQUIRE(proposal.window);
    return *proposal.window;
}

bool overlap(double low, double high, double band_low, double band_high) {
    return low <= band_high && high >= band_low;
}

// Rules that are not passed somewhere in the window but are at its middle.
void check_inside(const Window& window, const Shop& shop, const Section& section) {
    std::vector<std::string> at_middle;
    for (const Finding& finding : window.findings) {
        CHECK(finding.verdict != Verdict::fail);
        if (finding.verdict == Verdict::caution)
            at_middle.push_back(finding.rule);
    }
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0, 1);
    for (int i = 0; i < 60; ++i) {
        SettingCard card = window.card;
        // The first 27 are every low, middle and high; then anywhere inside.
        const auto pick = [&](const Span& span, int which) {
            if (i >= 27)
                return std::lerp(span.low.value, span.high.value, share(random));
            return which == 0 ? span.low.value : which == 1 ? span.middle : span.high.value;
        };
        card.volts_v = pick(window.volts, i % 3);
        card.wire_feed_m_per_s = pick(window.drive, i / 3 % 3);
        card.travel_m_per_s = pick(window.travel, i / 9 % 3);
        for (const Finding& finding : book().judge(card, shop, section))
            if (finding.verdict != Verdict::pass)
                CHECK_MESSAGE(std::ranges::find(at_middle, finding.rule) != at_middle.end(),
                              finding.sentence.english());
    }
}

} // namespace

TEST_CASE("windows of 0.8 mm wire overlap the practice bands of each thickness") {
    // 0.8 mm (0.030 in) solid wire, 75/25, short-circuit: volts, feed in/min, travel mm/min, amps; common practice,
    // no source. From 2 mm on for travel a plate of 5 mm is between rows as the table has it.
    struct Row {
        double plate_mm, volts[2], feed[2], travel[2], amps[2];
    };
    for (const Row& row :
         {Row{0.8, {14, 15}, {80, 120}, {350, 600}, {35, 50}}, Row{1.0, {14.5, 15.5}, {100, 140}, {350, 550}, {45, 60}},
          Row{1.2, {15, 16.5}, {130, 180}, {350, 500}, {60, 80}}, Row{1.5, {16, 17}, {160, 210}, {300, 500}, {75, 95}},
          Row{2, {17, 18}, {190, 250}, {300, 450}, {90, 115}}, Row{3, {17.5, 19}, {230, 290}, {250, 400}, {110, 135}},
          Row{4, {18, 20}, {250, 330}, {250, 380}, {120, 145}}, Row{5, {19, 21}, {300, 370}, {230, 350}, {135, 165}},
          Row{6, {20, 22}, {340, 420}, {200, 300}, {150, 180}}}) {
        CAPTURE(row.plate_mm);
        const Section section = bench::section(row.plate_mm, row.plate_mm);
        const Proposal proposal = propose(book(), open_card(), bench::shop(), section);
        REQUIRE(proposal.window);
        const Window& window = *proposal.window;
        CHECK(overlap(window.volts.low.value, window.volts.high.value, row.volts[0], row.volts[1]));
        constexpr double in_per_min = units::inch / 60, mm_per_min = mm / 60;
        CHECK(overlap(window.drive.low.value, window.drive.high.value, row.feed[0] * in_per_min,
                      row.feed[1] * in_per_min));
        CHECK(overlap(window.travel.low.value, window.travel.high.value, row.travel[0] * mm_per_min,
                      row.travel[1] * mm_per_min));
        CHECK(window.figures.arc.current_a > 0.95 * row.amps[0]);
        CHECK(window.figures.arc.current_a < 1.05 * row.amps[1]);
    }
}

TEST_CASE("current, volts and feed rise with thickness") {
    // Each step up in thickness raises volts and feed of one wire (common practice, no source); the current rises
    // whatever wire is chosen.
    double current = 0, volts = 0, feed = 0;
    for (const double plate_mm : {1.5, 2., 3., 4., 5., 6.}) {
        const Proposal proposal = propose(book(), open_card(), bench::shop(), bench::section(plate_mm, plate_mm));
        REQUIRE(proposal.window);
        CHECK(proposal.window->figures.arc.current_a > current);
        CHECK(proposal.window->volts.middle > volts);
        CHECK(proposal.window->drive.middle > feed);
        current = proposal.window->figures.arc.current_a;
        volts = proposal.window->volts.middle;
        feed = proposal.window->drive.middle;
    }
    current = 0;
    for (const double plate_mm : {1.5, 2., 3., 4., 5., 6., 8., 12.}) {
        CAPTURE(plate_mm);
        const Window window = any_wire(plate_mm);
        CHECK(window.figures.arc.current_a > current);
        current = window.figures.arc.current_a;
    }
}

TEST_CASE("thick plates have a window once they are warm") {
    SettingCard card = open_card();
    card.wire = "s12";
    card.gas = "m21";
    card.tip_distance_m = 18 * mm;
    card.gas_flow_m3_per_s = 15 * units::litre_per_minute;
    for (const double plate_mm : {12.0, 16.0, 20.0, 25.0, 40.0}) {
        CAPTURE(plate_mm);
        card.preheat_k = units::celsius(plate_mm > 38 ? 110 : plate_mm > 19 ? 70 : 20);
        const Proposal proposal = propose(book(), card, bench::shop(), bench::section(plate_mm, plate_mm));
        CHECK(proposal.window);
    }
}

TEST_CASE("0.8 mm wire under 75/25 is chosen for 3 mm steel") { // common practice, no source
    const Window window = any_wire(3);
    CHECK(window.card.wire == "s08");
    CHECK(window.card.gas == "mix");
}

TEST_CASE("plugs and seams of a sheet take less than its joint to a thicker bush") { // common practice, no source
    const auto middle = [](const Section& section) {
        SettingCard card = open_card();
        card.aim = usual_aim(section);
        const Proposal proposal = propose(book(), card, bench::shop(), section);
        REQUIRE(proposal.window);
        return *proposal.window;
    };
    const Window bush = middle(bench::section(3, 8)), seam = middle(bench::section(3, 3));
    Section section = bench::section(3, 3, part::JointType::plug);
    section.size_m = 12 * mm;
    const Window plug = middle(section);
    CHECK(seam.figures.arc.current_a < bush.figures.arc.current_a);
    CHECK(plug.figures.arc.current_a < bush.figures.arc.current_a);
    CHECK(seam.volts.middle < bush.volts.middle);
    CHECK(seam.drive.middle < bush.drive.middle);
}

TEST_CASE("anything inside a window is as good as its middle, and each side says what bounds it") {
    const Shop shop = bench::shop();
    for (const auto& [a_mm, b_mm, type] : {std::tuple{1.5, 1.5, part::JointType::lap},
                                           {3., 3., part::JointType::fillet},
                                           {2., 2., part::JointType::butt},
                                           {3., 8., part::JointType::fillet},
                                           {5., 5., part::JointType::corner}}) {
        CAPTURE(a_mm);
        CAPTURE(b_mm);
        const Section section = bench::section(a_mm, b_mm, type);
        SettingCard card = open_card();
        card.aim = usual_aim(section);
        const Proposal proposal = propose(book(), card, shop, section);
        REQUIRE(proposal.window);
        check_inside(*proposal.window, shop, section);
        for (const Span* span : {&proposal.window->volts, &proposal.window->drive, &proposal.window->travel}) {
            CHECK(span->low.value <= span->middle);
            CHECK(span->middle <= span->high.value);
            CHECK_FALSE(span->low.reason.empty());
            CHECK_FALSE(span->high.reason.empty());
        }
    }
}

TEST_CASE("what is set stays set") {
    SettingCard card = bench::card();
    card.travel_m_per_s = 0;
    card.volts_v = 0;
    const Proposal proposal = propose(book(), card, bench::shop(), bench::section(3, 3), {true, false, true});
    REQUIRE(proposal.window);
    CHECK_FALSE(proposal.window->drive.open);
    CHECK(proposal.window->card.wire_feed_m_per_s == card.wire_feed_m_per_s);
}

TEST_CASE("no window names the rules in conflict and ways out that were tried") {
    const Section thick = bench::section(10, 10);
    const Proposal proposal = propose(book(), open_card(), bench::shop(), thick);
    CHECK_FALSE(proposal.window);
    REQUIRE_FALSE(proposal.conflicts.empty());
    const auto names = [&](const char* rule) {
        return std::ranges::find(proposal.conflicts, rule, &Finding::rule) != proposal.conflicts.end();
    };
    CHECK(names("wire.for_thickness"));
    REQUIRE_FALSE(proposal.ways_out.empty());
    for (const WayOut& way : proposal.ways_out)
        CHECK(worst(way.window.findings) != Verdict::fail);
    CHECK(proposal.ways_out.front().words.find("wire") != std::string::npos);

    // Under 82/18 already, a change to it is no way out; no two ways end in the same settings.
    SettingCard under_spray = open_card();
    under_spray.gas = "m21";
    const Proposal thin = propose(book(), under_spray, bench::shop(), bench::section(0.5, 0.5));
    REQUIRE_FALSE(thin.window);
    REQUIRE_FALSE(thin.ways_out.empty());
    for (std::size_t k = 0; k < thin.ways_out.size(); ++k) {
        CHECK(thin.ways_out[k].words.find("82 % Ar") == std::string::npos);
        for (std::size_t other = 0; other < k; ++other)
            CHECK(thin.ways_out[k].words != thin.ways_out[other].words);
    }

    // A square butt too thick for one side: bevel, backing or both sides.
    const Proposal butt = propose(book(), open_card(), bench::shop(), bench::section(6, 6, part::JointType::butt));
    CHECK_FALSE(butt.window);
    CHECK_FALSE(butt.ways_out.empty());
}
