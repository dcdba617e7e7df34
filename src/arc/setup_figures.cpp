#include "arc/setup_figures.h"

#include "arc/bead.h"
#include "arc/power_source.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {
namespace {

bool has_leg(part::JointType type) {
    return type == part::JointType::fillet || type == part::JointType::lap || type == part::JointType::corner;
}

// Section::size_m of a corner is its throat, of a fillet or lap its leg.
double asked_leg_m(const Section& section) {
    if (section.size_m <= 0)
        return usual_leg_m(section);
    return section.type == part::JointType::corner ? section.size_m * std::sqrt(2.0) : section.size_m;
}

double joint_area_m2(const Section& section, double leg_m) {
    if (has_leg(section.type))
        return area_for_leg_m2(leg_m);
    if (section.type == part::JointType::butt)
        return (1 + convex_share) * groove_area_m2(section);
    if (section.type == part::JointType::edge)
        return 2 * section.thinner_m() * std::min(section.size_m, section.thinner_m());
    return 0;
}

void add_work(SetupFigures& figures, const SettingCard& card, const Shop& shop, const Section& section) {
    const bool plug = section.type == part::JointType::plug;
    figures.length_m = section.length_m > 0 ? section.length_m : 1;
    if (plug)
        figures.arc_time_s = card.plug_s > 0 ? card.plug_s : figures.arc.fill_s;
    else if (card.travel_m_per_s > 0)
        figures.arc_time_s = figures.passes * figures.length_m / card.travel_m_per_s;
    figures.wire_kg = figures.arc_time_s * card.wire_feed_m_per_s *
                      material::linear_mass_kg_per_m(figures.setting.wire_diameter_m, figures.setting.wire.form,
                                                     figures.setting.wire.metal);
    // Twelve litres a minute for each millimetre of wire where no flow is set. common practice, no source
    const bool shielded = figures.setting.gas.inert() + figures.setting.gas.active() > 0;
    figures.gas_flow_m3_per_s =
        card.gas_flow_m3_per_s > 0 ? card.gas_flow_m3_per_s
        : shielded ? std::max(10.0, 12 * figures.setting.wire_diameter_m * 1e3) * units::litre_per_minute
                   : 0;
    if (shielded)
        figures.gas_m3 = figures.gas_flow_m3_per_s * figures.arc_time_s;
    if (shop.cost_per_hour > 0 || shop.gas_cost_per_m3 > 0 || shop.wire_cost_per_kg > 0)
        figures.cost = figures.arc_time_s / 3600 * shop.cost_per_hour + figures.gas_m3 * shop.gas_cost_per_m3 +
                       figures.wire_kg * shop.wire_cost_per_kg;
}

} // namespace

double governing_thickness_m(const Section& section) {
    return std::min((section.thickness_a_m + section.thickness_b_m) / 2, 1.5 * section.thinner_m());
}

double usual_leg_m(const Section& section) {
    constexpr double plate_from_m = 19e-3, plate_leg_m = 8e-3; // AISC 360 table J2.4, from memory; rule fillet.least
    const double by_practice_m = 1.6e-3 + 0.75 * std::min(governing_thickness_m(section), 6e-3);
    return section.thinner_m() > plate_from_m ? plate_leg_m : by_practice_m;
}

bool has_open_root(const Section& section) {
    constexpr double open_from_m = 1e-3;
    return section.type == part::JointType::butt && section.groove_angle_rad && !section.backing &&
           section.root_gap_m >= open_from_m;
}

double groove_area_m2(const Section& section) {
    const double t = section.size_m > 0 ? std::min(section.size_m, section.thinner_m()) : section.thinner_m();
    const double square_m2 = section.root_gap_m * t;
    if (!section.groove_angle_rad)
        return square_m2;
    const double sloped = std::max(0.0, t - section.root_face_m.value_or(0));
    return square_m2 + sloped * sloped * std::tan(*section.groove_angle_rad / 2);
}

SetupFigures setup_figures(const SettingCard& card, const Shop& shop, const Section& section) {
    SetupFigures figures;
    figures.setting = arc_setting(card, shop);
    figures.arc = arc_figures(card, shop, section);
    figures.members = members(card, figures.arc, section);
    figures.gas_group = material::iso_14175_group(figures.setting.gas);
    if (figures.setting.gas.inert() + figures.setting.gas.active() <= 0)
        figures.gas_group = "";
    figures.load_volts_v = load_volts_v(card.process, figures.arc.current_a);
    figures.governing_thickness_m = governing_thickness_m(section);
    const double start_k = std::max(section.start_k, card.preheat_k);
    figures.cooling =
        cooling_time(figures.arc.heat_input_j_per_m, start_k, section.thicker_m(), joint_factors(section.type));
    if (section.metal == material::Metal::mild_steel)
        if (const material::SteelGrade* grade = material::find_steel_grade(section.steel))
            figures.preheat =
                preheat(grade->typical, card.process, section.thicker_m(), figures.arc.heat_input_j_per_m);

    // Passes, where a size is asked: up to 15 % short of the wanted area is left to the next pass's weave, not to a
    // further pass.
    if (has_leg(section.type))
        figures.wanted_leg_m = asked_leg_m(section);
    figures.joint_area_m2 = joint_area_m2(section, figures.wanted_leg_m);
    if (section.passes > 0)
        figures.passes = section.passes;
    else if (figures.arc.deposit_area_m2 > 0 && (section.size_m > 0 || section.type == part::JointType::butt))
        figures.passes = static_cast<int>(
            std::clamp(std::ceil(figures.joint_area_m2 / figures.arc.deposit_area_m2 - 0.15), 1.0, 999.0));
    figures.total_leg_m = figures.arc.leg_m * std::sqrt(static_cast<double>(figures.passes));

    if (!shop.sources.empty())
        figures.duty = duty_at(shop.sources.front(), figures.arc.current_a);
    add_work(figures, card, shop, section);
    return figures;
}

} // namespace holdtrue::arc
