// Thousands of random cards, shops and joints, sensible and silly: every figure is finite, every finding one clear
// line, nothing crashes.
#include "arc/propose.h"
#include "random_cards.h"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

using namespace holdtrue;
using namespace holdtrue::arc;
using bench::Dice;
using bench::random_card;
using bench::random_section;
using units::mm;

namespace {

bool one_clear_line(const std::string& line) {
    for (const char* bad : {"\n", "nan", "inf", "not known", "  ", "::", ".."})
        if (line.find(bad) != std::string::npos)
            return false;
    return true;
}

void check_figures(const SetupFigures& f) {
    for (const double value : {f.arc.current_a,
                               f.arc.arc_power_w,
                               f.arc.net_power_w,
                               f.arc.heat_input_j_per_m,
                               f.arc.arc_energy_j_per_m,
                               f.arc.deposit_area_m2,
                               f.arc.leg_m,
                               f.arc.throat_m,
                               f.arc.penetration_m,
                               f.arc.source_sigma_m,
                               f.arc.fill_s,
                               f.arc.face_width_m,
                               f.arc.state.usual_volts_v,
                               f.arc.state.shorts_per_s,
                               f.arc.state.steadiness,
                               f.members.back_a.peak_k,
                               f.members.back_b.peak_k,
                               f.members.back_a.molten_share,
                               f.members.fusion_a.penetration_m,
                               f.members.fusion_b.needed_m,
                               f.members.full_depth_width_m,
                               f.cooling.seconds(),
                               f.cooling.transition_m,
                               f.load_volts_v,
                               f.total_leg_m,
                               f.joint_area_m2,
                               f.arc_time_s,
                               f.wire_kg,
                               f.gas_m3,
                               f.cost.value_or(0),
                               f.duty.value_or(0)})
        if (!(std::isfinite(value) && value >= 0))
            FAIL_CHECK("a figure is not a finite number of at least 0: " << value);
    CHECK(f.passes >= 1);
}

} // namespace

TEST_CASE("random cards give finite figures and clear lines") {
    const RuleBook book = RuleBook::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" / "rules");
    Dice dice;
    Shop shop = bench::shop();
    PowerSource source;
    source.rated_current_a = 220;
    source.rated_duty = 0.35;
    shop.cost_per_hour = 48;
    for (int i = 0; i < 3000; ++i) {
        CAPTURE(i);
        shop.sources.clear();
        if (dice.chance(0.5))
            shop.sources.push_back(source);
        shop.draught_m_per_s = dice.chance(0.3) ? dice.size(0.1, 20) : 0;
        shop.helmet_shade = dice.chance(0.3) ? static_cast<int>(dice.between(1, 15)) : 0;
        const SettingCard card = random_card(dice, shop);
        const Section section = random_section(dice);
        const SetupFigures figures = setup_figures(card, shop, section);
        check_figures(figures);
        const units::System system = dice.chance(0.5) ? units::System::metric : units::System::imperial;
        const std::vector<Finding> findings = book.judge(card, shop, section, figures, system);
        for (const Finding& finding : findings) {
            CAPTURE(finding.rule);
            CAPTURE(finding.sentence.english());
            CAPTURE(finding.change.english());
            CHECK(one_clear_line(finding.sentence.english()));
            CHECK(one_clear_line(finding.change.english()));
            CHECK(one_clear_line(finding.measured.english()));
            CHECK_FALSE(finding.sentence.empty());
            CHECK(finding.sentence.english().ends_with("."));
            CHECK_FALSE(finding.limit.empty());
            CHECK((finding.verdict == Verdict::pass) == finding.change.empty());
        }
        // Without words the verdicts are the same.
        const auto verdicts = book.verdicts(card, shop, section, figures);
        REQUIRE(verdicts.size() == findings.size());
        for (std::size_t k = 0; k < findings.size(); ++k) {
            CHECK(verdicts[k].rule->id == findings[k].rule);
            CHECK(verdicts[k].verdict == findings[k].verdict);
        }
    }
}

TEST_CASE("a proposal for any joint ends in a window or in named conflicts") {
    const RuleBook book = RuleBook::read(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" / "rules");
    Dice dice;
    const Shop shop = bench::shop();
    for (int i = 0; i < 60; ++i) {
        CAPTURE(i);
        SettingCard card = random_card(dice, shop);
        card.tip_distance_m = dice.between(6 * mm, 25 * mm);
        const Proposal proposal = propose(book, card, shop, random_section(dice), {}, units::System::metric, false);
        CHECK(proposal.window.has_value() == proposal.conflicts.empty());
        if (proposal.window) {
            check_figures(proposal.window->figures);
            CHECK(worst(proposal.window->findings) != Verdict::fail);
        }
    }
}
