#include "arc/arc.h"
#include "arc/bead.h"
#include "text/input_error.h"
#include "units/units.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::arc;
using units::mm;

namespace {

Shop small_shop() {
    Shop shop;
    shop.wires = {{"s08", "ER70S-6", 0.8 * mm, Process::mag_135}, {"s12", "ER70S-6", 1.2 * mm, Process::mag_135}};
    Gas mixed;
    mixed.argon = 0.75;
    mixed.co2 = 0.25;
    mixed.id = "mix";
    shop.gases = {mixed};
    return shop;
}

SettingCard card_for_3_mm() {
    SettingCard card;
    card.wire = "s08";
    card.gas = "mix";
    card.volts_v = 18.5;
    card.wire_feed_m_per_s = 6.4 / 60;
    card.travel_m_per_s = 5 * mm;
    card.tip_distance_m = 12 * mm;
    return card;
}

Section fillet(double a_mm, double b_mm) {
    Section section;
    section.thickness_a_m = a_mm * mm;
    section.thickness_b_m = b_mm * mm;
    return section;
}

} // namespace

TEST_CASE("power, net power and heat input follow EN 1011-1") {
    const ArcFigures figures = arc_figures(card_for_3_mm(), small_shop(), fillet(3, 3));
    CHECK(figures.current_a > 110); // practice band of 2.5-3 mm plate, common practice, no source
    CHECK(figures.current_a < 135);
    CHECK(figures.arc_power_w == doctest::Approx(18.5 * figures.current_a));
    CHECK(figures.net_power_w == doctest::Approx(0.8 * figures.arc_power_w));
    // 0.8 * 18.5 V * I / (5 mm/s); EN 1011-1:2009 table 1, from memory
    CHECK(figures.heat_input_j_per_m == doctest::Approx(0.8 * 18.5 * figures.current_a / 0.005));
    CHECK(figures.arc_energy_j_per_m * 0.8 == doctest::Approx(figures.heat_input_j_per_m));
    CHECK(figures.state.transfer == Transfer::short_circuit);
    CHECK(figures.state.condition == Condition::steady);
    CHECK(figures.state.shorts_per_s > 20); // AWS: 20-200 per second, from memory
    CHECK(figures.state.shorts_per_s < 200);
}

TEST_CASE("deposit arithmetic") {
    // Area = wire area * feed * efficiency / travel, kg/h = 60 * m/min * g/m / 1000 * efficiency: worked by hand.
    ArcSetting setting;
    setting.wire_diameter_m = 0.762 * mm;
    setting.gas = {0.75, 0, 0.25, 0, 0};
    setting.wire_feed_m_per_s = 5.0 / 60;
    const double share = deposit_share(setting, Transfer::short_circuit);
    CHECK(share == doctest::Approx(0.95).epsilon(0.011)); // AWS 0.95-0.96, from memory
    const double laid = deposit_m3_per_s(setting, Transfer::short_circuit) / share * 0.95;
    CHECK(laid / (0.300 / 60) == doctest::Approx(7.22e-6).epsilon(0.001)); // 5.0 m/min, 300 mm/min: 7.22 mm^2
    CHECK(laid * 7850 * 3600 == doctest::Approx(1.02).epsilon(0.005));     // 1.02 kg/h
    // Flat face: leg = sqrt(2 area): 7.22 mm^2 gives 3.80; a tenth of it stands proud here.
    const BeadShape shape = bead_shape(part::JointType::fillet, 7.22e-6 * (1 + convex_share), 3 * mm, 0, 0);
    CHECK(shape.leg_m == doctest::Approx(3.80 * mm).epsilon(0.001));
    CHECK(shape.throat_m == doctest::Approx(2.69 * mm).epsilon(0.002));
    CHECK(area_for_leg_m2(shape.leg_m) == doctest::Approx(7.22e-6 * (1 + convex_share)));
}

TEST_CASE("a plug takes as long as its hole takes to fill") {
    Section section = fillet(3, 6);
    section.type = part::JointType::plug;
    section.size_m = 12 * mm;
    const ArcFigures figures = arc_figures(card_for_3_mm(), small_shop(), section);
    // pi/4 * 12^2 * 3 = 339.3 mm^3 and a tenth on top, at 0.5027 mm^2 * 106.7 mm/s * 0.955 = 51.2 mm^3/s
    CHECK(figures.fill_s == doctest::Approx(339.3 * 1.1 / 51.2).epsilon(0.002));
    CHECK(figures.leg_m == 0);
}

TEST_CASE("Jackson's penetration") {
    // 300 A, 30 V, 12 in/min, K 0.0010: 0.001 * (8.1e9 / (12*900))^(1/3) = 0.0909 in (computed from the formula)
    CHECK(penetration_m(Process::mag_135, 300, 30, 12 * units::inch / 60) ==
          doctest::Approx(0.0909 * units::inch).epsilon(0.001));
    CHECK(penetration_m(Process::mag_135, 0, 30, 0.005) == 0);
}

TEST_CASE("what the shop does not have is said, with what it has") {
    SettingCard card = card_for_3_mm();
    card.wire = "s10";
    CHECK_THROWS_WITH_AS(arc_figures(card, small_shop(), fillet(3, 3)),
                         "the shop has no wire \"s10\"; it has s08 or s12", text::InputError);
}

TEST_CASE("the section of a joint carries its panels' thickness, coating and grade") {
    part::Part part;
    part.steel = "S355";
    part.ambient_k = 283;
    part.panels.resize(2);
    part.panels[0].thickness_m = 3 * mm;
    part.panels[1].thickness_m = 8 * mm;
    part.panels[1].coated = true;
    part::Joint joint;
    joint.panel_a = 1;
    joint.panel_b = 0;
    joint.type = part::JointType::lap;
    joint.size_m = 3 * mm;
    const Section section = section_of(part, joint);
    CHECK(section.thickness_a_m == 8 * mm);
    CHECK(section.thinner_m() == 3 * mm);
    CHECK(section.coated_a);
    CHECK_FALSE(section.coated_b);
    CHECK(section.steel == "S355");
    CHECK(section.start_k == 283);
}
