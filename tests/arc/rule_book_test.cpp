#include "arc/rule_book.h"
#include "bench_card.h"
#include "scratch_folder.h"
#include "text/atomic_file.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <numbers>
#include <set>

using namespace holdtrue;
using namespace holdtrue::arc;
using units::mm;

namespace {

const RuleBook& book() {
    static const RuleBook read = RuleBook::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" / "rules");
    return read;
}

// The finding of one rule; a rule that does not apply gives an empty id.
Finding finding(const char* rule, const SettingCard& card, const Section& section, const Shop& shop = bench::shop()) {
    for (const Finding& found : book().judge(card, shop, section))
        if (found.rule == rule)
            return found;
    return {};
}

Verdict verdict(const char* rule, const SettingCard& card, const Section& section, const Shop& shop = bench::shop()) {
    const Finding found = finding(rule, card, section, shop);
    REQUIRE_MESSAGE(!found.rule.empty(), rule << " does not apply");
    return found.verdict;
}

bool applies(const char* rule, const SettingCard& card, const Section& section) {
    return !finding(rule, card, section).rule.empty();
}

// A book of one rule, as a file; the message that reading it gives.
std::string complaint(const std::string& rule_toml) {
    const ScratchFolder folder("rules");
    text::write_atomically(folder.path / "a.toml", rule_toml);
    std::string message;
    try {
        RuleBook::read(folder.path);
    } catch (const text::InputError& error) {
        message = error.what();
    }
    return message.substr(message.find("a.toml") == std::string::npos ? 0 : message.find("a.toml"));
}

} // namespace

TEST_CASE("every rule has an evaluator, every evaluator a rule, and no id comes twice") {
    std::set<std::string> in_book, in_code;
    for (const Rule& rule : book().rules())
        CHECK_MESSAGE(in_book.insert(rule.id).second, rule.id);
    for (const std::string& id : evaluator_ids())
        CHECK_MESSAGE(in_code.insert(id).second, id);
    CHECK(in_book == in_code);
    CHECK(in_book.size() >= 60);
}

TEST_CASE("every rule says where it comes from and where it holds") {
    for (const Rule& rule : book().rules()) {
        CAPTURE(rule.id);
        for (const std::string* words : {&rule.about, &rule.applies, &rule.says, &rule.source, &rule.valid, &rule.unit})
            CHECK(!words->empty());
        CHECK(rule.line > 0);
        if (rule.mark == Mark::standard) // a standard or a code is named
            CHECK_MESSAGE(rule.source.find_first_of("0123456789") != std::string::npos, rule.source);
    }
}

TEST_CASE("a wrong entry is refused at its line") {
    CHECK(complaint("[[rule]]\nid = \"plug.spacing\"\nabout = \"a\"\napplies = \"a\"\nsays = \"a\"\nunit = \"mm\"\n"
                    "low = 1\nsource = \"\"\nmark = \"handbook\"\nvalid = \"a\"\nseverity = \"fail\"\n")
              .find("a.toml:8: source is empty") == 0);
    CHECK(complaint("[[rule]]\nid = \"plug.spacing\"\nabout = \"a\"\napplies = \"a\"\nsays = \"a\"\nunit = \"mm\"\n"
                    "source = \"a\"\nmark = \"hearsay\"\nvalid = \"a\"\nseverity = \"fail\"\n")
              .find("a.toml:8: mark is \"hearsay\"") != std::string::npos);
    CHECK(complaint("rule = 3\n") != "");
}

TEST_CASE("a book that leaves rules out judges by the others alone") {
    namespace fs = std::filesystem;
    const ScratchFolder folder("rules");
    for (const auto& entry : fs::directory_iterator(book().folder()))
        if (entry.path().filename() != "arc.toml")
            fs::copy_file(entry.path(), folder.path / entry.path().filename());
    const RuleBook shorter = RuleBook::read(folder.path);
    REQUIRE(!shorter.find("volts.usual_line"));
    const auto ids = [](const RuleBook& of) {
        std::vector<std::string> all;
        for (const Finding& found : of.judge(bench::card(), bench::shop(), bench::section(3, 3)))
            if (!book().find(found.rule)->file.ends_with("arc.toml"))
                all.push_back(found.rule);
        return all;
    };
    const std::vector<std::string> kept = ids(shorter);
    CHECK(kept.size() > 10);
    CHECK(kept == ids(book()));
}

TEST_CASE("entries that this program cannot judge are set aside, and the others judge as they do without them") {
    namespace fs = std::filesystem;
    const ScratchFolder folder("rules");
    for (const auto& entry : fs::directory_iterator(book().folder()))
        fs::copy_file(entry.path(), folder.path / entry.path().filename());
    const auto change = [&](const char* name, const std::function<std::string(std::string)>& changed) {
        std::ifstream in(folder.path / name);
        const std::string text{std::istreambuf_iterator<char>(in), {}};
        text::write_atomically(folder.path / name, changed(text));
    };
    const auto swapped = [](std::string text, const std::string& from, const std::string& to) {
        const std::size_t at = text.find(from);
        REQUIRE(at != std::string::npos);
        return text.replace(at, from.size(), to);
    };
    change("heat.toml", [](const std::string& text) { // as of a later program
        return text + "\n[[rule]]\nid = \"no.such\"\nabout = \"a\"\napplies = \"a\"\nsays = \"a\"\nunit = \"mm\"\n"
                      "low = 1\nsource = \"a\"\nmark = \"handbook\"\nvalid = \"a\"\nseverity = \"fail\"\n";
    });
    change("safety.toml", [](const std::string& text) { // a number where rows are compared with
        const std::size_t from = text.find("by = "), to = text.find("\n]", from);
        return text.substr(0, from) + "low = 9" + text.substr(to + 2);
    });
    change("plug_tack.toml", [&](const std::string& text) {
        return swapped(text, "unit = \"mm\"\nhigh = 50\n", "unit = \"V\"\nhigh = 50\n");
    });
    change("fillet.toml", [&](const std::string& text) { return swapped(text, "share = ", "caution_above = "); });
    const RuleBook other = RuleBook::read(folder.path);
    std::set<std::string> aside;
    for (const Rule& rule : other.unjudged())
        aside.insert(rule.id);
    CHECK(aside.contains("no.such"));
    CHECK(aside.contains("eye.least_shade"));
    CHECK(aside.contains("tack.least_length"));
    CHECK(aside.size() == 4);
    CHECK(other.rules().size() == book().rules().size() - 3);
    for (const double thick_mm : {3.0, 8.0}) {
        std::vector<std::string> all, kept;
        for (const Finding& found : other.judge(bench::card(), bench::shop(), bench::section(3, thick_mm)))
            all.push_back(found.rule);
        for (const Finding& found : book().judge(bench::card(), bench::shop(), bench::section(3, thick_mm)))
            if (!aside.contains(found.rule))
                kept.push_back(found.rule);
        CHECK(all == kept);
    }
    // What others build on cannot be set aside.
    change("plug_tack.toml", [&](const std::string& text) { return swapped(text, "\nbase = ", "\nlow = "); });
    CHECK_THROWS_AS(RuleBook::read(folder.path), text::InputError);
}

TEST_CASE("the middle of every practice band passes every rule that can fail") {
    // 0.8 mm wire, 75/25, short-circuit, tee of two equal sheets: plate, feed in/min, volts, travel mm/min; common
    // practice, no source
    struct Row {
        double plate_mm, feed, volts, travel;
    };
    for (const Row& row : {Row{0.8, 100, 14.5, 475}, Row{1, 120, 15, 450}, Row{1.2, 155, 15.75, 425},
                           Row{1.5, 185, 16.5, 400}, Row{2, 220, 17.5, 375}, Row{2.75, 260, 18.25, 325},
                           Row{3.6, 290, 19, 315}, Row{5, 335, 20, 290}, Row{6, 380, 21, 250}}) {
        CAPTURE(row.plate_mm);
        SettingCard card = bench::card();
        card.volts_v = row.volts;
        card.wire_feed_m_per_s = row.feed * units::inch / 60;
        card.travel_m_per_s = row.travel * mm / 60;
        for (const Finding& found : book().judge(card, bench::shop(), bench::section(row.plate_mm, row.plate_mm)))
            CHECK_MESSAGE(found.verdict != Verdict::fail, found.sentence.english());
    }
}

TEST_CASE("amps, volts and wire out of place are found, with the change that cures it") {
    SettingCard card = bench::card();
    CHECK(verdict("current.by_thickness", card, bench::section(3, 3)) == Verdict::pass);
    card.wire_feed_m_per_s = 3.0 / 60; // far too slow for 3 mm
    const Finding cold = finding("current.by_thickness", card, bench::section(3, 3));
    CHECK(cold.verdict == Verdict::fail);
    CHECK(cold.sentence.english().find("below") != std::string::npos);
    CHECK(cold.change.english().find("raise the wire feed from") == 0);
    // Doing as it says cures it.
    const double to = std::stod(cold.change.english().substr(cold.change.english().find(" to ") + 4));
    card.wire_feed_m_per_s = (to + 0.05) / 60;
    CHECK(verdict("current.by_thickness", card, bench::section(3, 3)) == Verdict::pass);

    card = bench::card();
    card.volts_v = 15;
    CHECK(verdict("volts.arc_holds", card, bench::section(3, 3)) == Verdict::fail);
    card.volts_v = 16.9;
    CHECK(verdict("volts.usual_line", card, bench::section(3, 3)) == Verdict::caution);
    // Short-circuit on thick plate.
    CHECK(verdict("transfer.short_circuit_thickness", bench::card(), bench::section(8, 8)) == Verdict::fail);
    CHECK(verdict("wire.for_thickness", bench::card(), bench::section(8, 8)) == Verdict::fail);
    CHECK(verdict("fusion.members", bench::card(), bench::section(10, 10)) == Verdict::fail);
}

TEST_CASE("AISC and AWS fillet minimum by the thinner member") { // AISC 360 table J2.4, to 1/4, 1/2, 3/4 in
    const Rule& rule = *book().find("fillet.least");
    for (const auto& [t_mm, leg_mm] :
         {std::pair{3., 3.}, {6., 3.}, {6.35, 3.}, {6.5, 5.}, {12.7, 5.}, {13.1, 6.}, {19.05, 6.}, {20., 8.}})
        CHECK(rule.at(t_mm * mm).low == doctest::Approx(leg_mm * mm));
    // Edge maximum: T below 6 mm, else T - 2 mm: 5 mm gives 5, 10 mm gives 8 (from memory).
    Section lap = bench::section(5, 10, part::JointType::lap);
    lap.size_m = 5 * mm;
    CHECK(verdict("fillet.most_along_edge", bench::card(), lap) == Verdict::pass);
    lap.size_m = 5.5 * mm;
    CHECK(verdict("fillet.most_along_edge", bench::card(), lap) == Verdict::caution);
    lap.thickness_a_m = 10 * mm;
    lap.size_m = 8 * mm;
    CHECK(verdict("fillet.most_along_edge", bench::card(), lap) == Verdict::pass);
    lap.size_m = 8.5 * mm;
    CHECK(verdict("fillet.most_along_edge", bench::card(), lap) == Verdict::caution);
}

TEST_CASE("AISC plug table: least and most hole, spacing") {
    // AISC 360 J2.3b: least t + 8 mm, drilled in even mm; most 3 mm above that (or 2.25 t); rounding from memory
    struct Row {
        double t_mm, least_mm, most_mm;
    };
    for (const Row& row : {Row{1.5, 9.5, 13}, Row{3, 11, 15}, Row{6, 14, 17}}) {
        CAPTURE(row.t_mm);
        Section plug = bench::section(row.t_mm, 8, part::JointType::plug);
        plug.size_m = row.least_mm * mm;
        CHECK(verdict("plug.least_hole", bench::card(), plug) == Verdict::pass);
        CHECK(verdict("plug.most_hole", bench::card(), plug) == Verdict::pass);
        plug.size_m = (row.least_mm - 0.1) * mm;
        CHECK(verdict("plug.least_hole", bench::card(), plug) == Verdict::fail);
        plug.size_m = row.most_mm * mm;
        CHECK(verdict("plug.most_hole", bench::card(), plug) == Verdict::pass);
        plug.size_m = (row.most_mm + 0.1) * mm;
        CHECK(verdict("plug.most_hole", bench::card(), plug) == Verdict::caution);
        plug.size_m = 12 * mm;
        plug.plug_spacing_m = 48 * mm; // 4 d
        CHECK(verdict("plug.spacing", bench::card(), plug) == Verdict::pass);
        plug.plug_spacing_m = 47 * mm;
        CHECK(verdict("plug.spacing", bench::card(), plug) == Verdict::fail);
    }
}

TEST_CASE("tack length of EN 1090-2 and tack spacing") { // from memory
    for (const auto& [t_mm, least_mm] : {std::pair{3., 12.}, {6., 24.}, {10., 40.}, {16., 50.}}) {
        Section section = bench::section(t_mm, t_mm);
        section.tack_length_m = least_mm * mm;
        CHECK(verdict("tack.least_length", bench::card(), section) == Verdict::pass);
        section.tack_length_m = (least_mm - 0.5) * mm;
        CHECK(verdict("tack.least_length", bench::card(), section) == Verdict::caution);
    }
    Section sheet = bench::section(3, 3);
    sheet.tack_spacing_m = 60 * mm; // 50-75 mm on 3 mm: common practice, no source
    CHECK(verdict("tack.spacing", bench::card(), sheet) == Verdict::pass);
    sheet.tack_spacing_m = 200 * mm;
    CHECK(verdict("tack.spacing", bench::card(), sheet) == Verdict::caution);
}

TEST_CASE("shade table of 29 CFR 1910.133(a)(5)") {
    const Rule &mag = *book().find("eye.least_shade"), &tig = *book().find("eye.least_shade_tig");
    for (const auto& [amps, shade] : {std::pair{30., 7.}, {59., 7.}, {60., 10.}, {160., 10.}, {250., 10.}, {500., 10.}})
        CHECK(mag.at(amps).low == shade);
    for (const auto& [amps, shade] : {std::pair{49., 8.}, {50., 8.}, {150., 8.}, {151., 10.}, {500., 10.}})
        CHECK(tig.at(amps).low == shade);
    Shop shop = bench::shop();
    shop.helmet_shade = 9;
    CHECK(verdict("eye.least_shade", bench::card(), bench::section(3, 3), shop) == Verdict::fail);
    shop.helmet_shade = 11;
    CHECK(verdict("eye.least_shade", bench::card(), bench::section(3, 3), shop) == Verdict::pass);
}

TEST_CASE("gas for metal and process") {
    SettingCard card = bench::card();
    Section steel = bench::section(3, 3);
    card.gas = "ar";
    CHECK(verdict("gas.inert_on_steel", card, steel) == Verdict::fail);
    card.gas = "";
    CHECK(verdict("gas.needed", card, steel) == Verdict::fail);
    Section stainless = steel;
    stainless.metal = material::Metal::stainless;
    card.wire = "ss";
    card.gas = "mix"; // 25 % CO2
    CHECK(verdict("gas.stainless_co2", card, stainless) == Verdict::fail);
    card.gas = "m12";
    CHECK(verdict("gas.stainless_co2", card, stainless) == Verdict::pass);
    Section aluminium = steel;
    aluminium.metal = material::Metal::aluminium;
    card.process = Process::mig_131;
    card.wire = "al";
    CHECK(verdict("gas.aluminium", card, aluminium) == Verdict::fail); // M12 holds CO2
    card.gas = "ar";
    CHECK(verdict("gas.aluminium", card, aluminium) == Verdict::pass);
    card.wire = "s08";
    CHECK(verdict("gas.mig_inert", card, steel) == Verdict::pass);
    card.gas = "mix";
    CHECK(verdict("gas.mig_inert", card, steel) == Verdict::fail); // 25 % CO2 makes it process 135
    CHECK(verdict("wire.for_metal", bench::card(), aluminium) == Verdict::fail);
}

TEST_CASE("a value that breaks a bound never reads like the bound") {
    SettingCard card = bench::card();
    const Section sheet = bench::section(3, 3);
    for (double travel_mm_per_min = 175; travel_mm_per_min < 180; travel_mm_per_min += 0.09) {
        card.travel_m_per_s = travel_mm_per_min * 1e-3 / 60;
        for (const Finding& finding : book().judge(card, bench::shop(), sheet))
            if (finding.rule == "travel.by_hand") {
                CAPTURE(finding.sentence.english());
                CHECK(finding.verdict == Verdict::fail);
                CHECK(finding.sentence.english().find("is 180 mm/min, below 180 mm/min") == std::string::npos);
            }
    }
}

TEST_CASE("draught: 8 km/h is the limit, trouble begins earlier") { // AWS D1.1, from memory; practice
    Shop shop = bench::shop();
    shop.draught_m_per_s = 0.8;
    CHECK(verdict("gas.draught_trouble", bench::card(), bench::section(3, 3), shop) == Verdict::pass);
    shop.draught_m_per_s = 1.5;
    CHECK(verdict("gas.draught_trouble", bench::card(), bench::section(3, 3), shop) == Verdict::caution);
    CHECK(verdict("gas.draught_limit", bench::card(), bench::section(3, 3), shop) == Verdict::pass);
    shop.draught_m_per_s = 2.24;
    CHECK(verdict("gas.draught_limit", bench::card(), bench::section(3, 3), shop) == Verdict::fail);
}

TEST_CASE("polarity goes by the wire's class") { // AWS A5.20, from memory
    SettingCard card = bench::card();
    CHECK(verdict("polarity.electrode_positive", card, bench::section(3, 3)) == Verdict::pass);
    card.polarity = Polarity::electrode_negative;
    CHECK(verdict("polarity.electrode_positive", card, bench::section(3, 3)) == Verdict::fail);
    card.process = Process::fcaw_self_114;
    card.wire = "t11";
    card.gas = "";
    CHECK(verdict("polarity.self_shielded", card, bench::section(3, 3)) == Verdict::pass);
    card.polarity = Polarity::electrode_positive;
    CHECK(verdict("polarity.self_shielded", card, bench::section(3, 3)) == Verdict::fail);
}

TEST_CASE("unequal members: aim, size and current go by rule") {
    SettingCard card = bench::card();
    const Section section = bench::section(3, 8);
    CHECK(verdict("unequal.aim", card, section) == Verdict::fail); // 0.5
    card.aim = 0.35;                                               // 0.65 on the thicker
    CHECK(verdict("unequal.aim", card, section) == Verdict::pass);
    CHECK(applies("current.unequal_members", card, section));
    CHECK_FALSE(applies("current.by_thickness", card, section));
    // A seam on the same sheet takes less than a joint to a thicker bush. common practice, no source
    const Finding bush = finding("current.unequal_members", card, section);
    const Finding seam = finding("current.by_thickness", card, bench::section(3, 3));
    CHECK(*bush.low > *seam.low);
    CHECK(*bush.high > *seam.high);
    Section plug = bench::section(3, 3, part::JointType::plug);
    plug.size_m = 12 * mm;
    CHECK(*finding("current.plug_below_joint", card, plug).low < *bush.low);
}

TEST_CASE("ISO 5817 limits at level C") { // ISO 5817 table 1, from memory
    SettingCard card = bench::card();
    Section section = bench::section(6, 6);
    section.size_m = 3 * mm * std::sqrt(2.0); // a = 3
    // Excess throat 1 + 0.2 a = 1.6; short throat 0.3 + 0.1 a = 0.6.
    const Finding excess = finding("fillet.excess_throat", card, section);
    CHECK(*excess.high == doctest::Approx(4.6 * mm));
    CHECK(*finding("fillet.short_throat", card, section).low == doctest::Approx(2.4 * mm));
    section.root_gap_m = 1 * mm; // gap 0.5 + 0.2 a = 1.1
    CHECK(*finding("fillet.gap", card, section).high == doctest::Approx(1.1 * mm));
}

TEST_CASE("coated, cold and hot work is found") {
    Section section = bench::section(3, 3);
    section.coated_a = true;
    CHECK(verdict("coating.removed", bench::card(), section) == Verdict::caution);
    section.bared_m = 10 * mm;
    CHECK(verdict("coating.removed", bench::card(), section) == Verdict::fail);
    section.bared_m = 30 * mm;
    CHECK(verdict("coating.removed", bench::card(), section) == Verdict::pass);
    section.start_k = units::celsius(-5);
    CHECK(verdict("preheat.cold_metal", bench::card(), section) == Verdict::fail);
    CHECK(verdict("preheat.ambient", bench::card(), section) == Verdict::pass);
    section.start_k = units::celsius(230);
    CHECK(verdict("interpass.most", bench::card(), section) == Verdict::caution);
    section.start_k = units::celsius(251);
    CHECK(verdict("interpass.most", bench::card(), section) == Verdict::fail);
}

TEST_CASE("an open root is run in short-circuit, whatever the plate, TIG goes by its own travel and flow") {
    // Common practice, no source: 80 to 140 A across an open root; TIG on sheet at 80 to 250 mm/min under 4 to 8 L/min.
    Section vee = bench::section(10, 10);
    vee.type = part::JointType::butt;
    vee.groove_angle_rad = std::numbers::pi / 3;
    vee.root_face_m = 1 * mm;
    vee.root_gap_m = 2.5 * mm;
    SettingCard card = bench::card();
    card.volts_v = 18.5;
    card.wire_feed_m_per_s = 4.2 / 60;
    card.travel_m_per_s = 3e-3;
    CHECK(!applies("current.by_thickness", card, vee));
    CHECK(!applies("transfer.short_circuit_thickness", card, vee));
    CHECK(verdict("current.open_root", card, vee) == Verdict::pass);
    card.volts_v = 29;
    card.wire_feed_m_per_s = 14.0 / 60;
    CHECK(verdict("current.open_root", card, vee) == Verdict::fail);
    vee.backing = true;
    CHECK(!applies("current.open_root", card, vee));

    SettingCard tig = bench::card();
    tig.process = Process::tig_141;
    tig.current_a = 100;
    tig.travel_m_per_s = 150 * mm / 60;
    tig.gas_flow_m3_per_s = 5 * units::litre_per_minute;
    CHECK(!applies("travel.by_hand", tig, bench::section(3, 3)));
    CHECK(!applies("gas.least_flow", tig, bench::section(3, 3)));
    CHECK(verdict("travel.tig", tig, bench::section(3, 3)) == Verdict::pass);
    CHECK(verdict("gas.least_flow_tig", tig, bench::section(3, 3)) == Verdict::pass);
}
