// Thousands of random cards, shops and joints, sensible and silly: every figure is finite, every finding one clear
// line, nothing crashes.
#include "arc/propose.h"
#include "bench_card.h"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <random>

using namespace holdtrue;
using namespace holdtrue::arc;
using units::mm;

namespace {

struct Dice {
    std::mt19937 engine{20240607};
    double between(double low, double high) { return std::uniform_real_distribution<double>(low, high)(engine); }
    // Over decades, and now and then nothing at all.
    double size(double low, double high) { return chance(0.03) ? 0 : std::exp(between(std::log(low), std::log(high))); }
    bool chance(double share) { return between(0, 1) < share; }
    template <class T>
    const T& one_of(const std::vector<T>& all) {
        return all[static_cast<std::size_t>(between(0, static_cast<double>(all.size()) - 1e-9))];
    }
};

SettingCard random_card(Dice& dice, const Shop& shop) {
    SettingCard card;
    const Wire& wire = dice.one_of(shop.wires);
    card.wire = wire.id;
    card.process = dice.chance(0.9) ? wire.process : Process::tig_141;
    card.gas = dice.chance(0.1) ? "" : dice.one_of(shop.gases).id;
    card.volts_v = dice.size(1, 60);
    card.wire_feed_m_per_s = dice.size(0.001, 1);
    card.travel_m_per_s = dice.size(1e-4, 0.2);
    card.current_a = dice.size(1, 700);
    card.tip_distance_m = dice.size(1 * mm, 60 * mm);
    card.gas_flow_m3_per_s = dice.size(1e-6, 1e-3);
    card.aim = dice.between(0, 1);
    card.preheat_k = dice.chance(0.2) ? dice.between(200, 1500) : 0;
    card.plug_s = dice.chance(0.3) ? dice.size(0.1, 100) : 0;
    card.polarity = dice.chance(0.5) ? Polarity::electrode_positive : Polarity::electrode_negative;
    card.motion = dice.chance(0.5) ? TorchMotion::push : TorchMotion::drag;
    return card;
}

Section random_section(Dice& dice) {
    using part::JointType;
    Section section;
    section.type = dice.one_of(std::vector<JointType>{JointType::butt, JointType::fillet, JointType::lap,
                                                      JointType::corner, JointType::edge, JointType::plug});
    section.thickness_a_m = dice.size(0.3 * mm, 120 * mm) + 0.1 * mm;
    section.thickness_b_m = dice.chance(0.4) ? section.thickness_a_m : dice.size(0.3 * mm, 120 * mm) + 0.1 * mm;
    section.size_m = dice.chance(0.5) ? dice.size(0.5 * mm, 80 * mm) : 0;
    section.root_gap_m = dice.chance(0.4) ? dice.size(0.01 * mm, 30 * mm) : 0;
    section.start_k = dice.chance(0.7) ? 293.15 : dice.between(150, 1900);
    section.metal =
        dice.one_of(std::vector{material::Metal::mild_steel, material::Metal::stainless, material::Metal::aluminium});
    section.steel = dice.one_of(std::vector<std::string>{"S235", "S355", "A36", "DC01", "unknown"});
    section.coated_a = dice.chance(0.2);
    section.length_m = dice.size(1 * mm, 100);
    section.passes = dice.chance(0.2) ? static_cast<int>(dice.between(1, 40)) : 0;
    if (dice.chance(0.3))
        section.groove_angle_rad = dice.between(0.01, 3.0);
    if (dice.chance(0.3))
        section.root_face_m = dice.size(0.1 * mm, 20 * mm);
    if (dice.chance(0.3))
        section.tack_length_m = dice.size(1 * mm, 300 * mm);
    if (dice.chance(0.3))
        section.tack_spacing_m = dice.size(1 * mm, 900 * mm);
    if (dice.chance(0.3))
        section.plug_spacing_m = dice.size(1 * mm, 900 * mm);
    section.backing = dice.chance(0.1);
    section.both_sides = dice.chance(0.1);
    return section;
}

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
    for (int i = 0; i < 8000; ++i) {
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
            CAPTURE(finding.sentence);
            CAPTURE(finding.change);
            CHECK(one_clear_line(finding.sentence));
            CHECK(one_clear_line(finding.change));
            CHECK(one_clear_line(finding.measured));
            CHECK_FALSE(finding.sentence.empty());
            CHECK(finding.sentence.ends_with("."));
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
