#include "arc/arc.h"

#include "arc/bead.h"
#include "arc/melting_rate.h"
#include "text/input_error.h"
#include "text/toml_reader.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::arc {
namespace {

material::WireForm form_of(Process process) {
    switch (process) {
    case Process::fcaw_gas_136:
        return material::WireForm::flux_gas_shielded;
    case Process::fcaw_self_114:
        return material::WireForm::flux_self_shielded;
    default:
        return material::WireForm::solid;
    }
}

template <class Thing>
[[noreturn]] void not_on_hand(text::Wording lacks, const std::string& id, const std::vector<Thing>& on_hand, int line) {
    std::vector<std::string> known;
    for (const Thing& thing : on_hand)
        known.push_back(thing.id);
    throw text::InputError("", line, {lacks, {id}},
                           known.empty() ? text::Told(text::worded("add it to the shop file"))
                                         : text::Told(text::worded("it has {0}"), {text::one_of(known)}));
}

// Goldak's convention (1984): the heat of an arc has fallen to 5 % at the edge of its pool, which reaches a
// millimetre beyond the bead's face. The heat spread of welding arcs was measured as 1.5-2.5 mm (Tsai and Eagar 1985,
// from memory), so it is not taken narrower than 1.5 mm.
double heat_spread_m(double face_width_m) { return std::max(1.5e-3, (face_width_m / 2 + 1e-3) / std::sqrt(6.0)); }

} // namespace

Section section_of(const part::Part& part, const part::Joint& joint) {
    const part::Panel& a = part.panels[static_cast<std::size_t>(joint.panel_a)];
    const part::Panel& b = part.panels[static_cast<std::size_t>(joint.panel_b)];
    Section section;
    section.type = joint.type;
    section.kind = joint.type == part::JointType::plug ? part::PassKind::plug : part::PassKind::run;
    section.thickness_a_m = a.thickness_m;
    section.thickness_b_m = b.thickness_m;
    section.size_m = joint.size_m;
    section.root_gap_m = joint.root_gap_m;
    section.start_k = part.ambient_k;
    section.steel = part.steel;
    section.coated_a = a.coated;
    section.coated_b = b.coated;
    return section;
}

const Wire& find_wire(const Shop& shop, const SettingCard& card) {
    const auto found = std::ranges::find(shop.wires, card.wire, &Wire::id);
    if (found == shop.wires.end())
        not_on_hand(text::worded("the shop has no wire \"{0}\""), card.wire, shop.wires, card.line);
    return *found;
}

material::GasMixture find_gas(const Shop& shop, const SettingCard& card) {
    if (card.gas.empty())
        return {};
    const auto found = std::ranges::find(shop.gases, card.gas, &Gas::id);
    if (found == shop.gases.end())
        not_on_hand(text::worded("the shop has no gas \"{0}\""), card.gas, shop.gases, card.line);
    return *found;
}

ArcSetting arc_setting(const SettingCard& card, const Shop& shop) {
    ArcSetting setting;
    const Wire& wire = find_wire(shop, card);
    setting.process = card.process;
    setting.wire = material::wire_class(wire.classification, form_of(card.process));
    setting.wire_diameter_m = wire.diameter_m;
    setting.gas = find_gas(shop, card);
    setting.volts_v = card.volts_v;
    setting.wire_feed_m_per_s = card.wire_feed_m_per_s;
    setting.tip_distance_m = card.tip_distance_m;
    setting.current_a = card.process == Process::tig_141
                            ? card.current_a
                            : melting_rate(wire.diameter_m, setting.wire.form, setting.wire.metal)
                                  .current_a(card.wire_feed_m_per_s, electrode_extension_m(card.tip_distance_m));
    return setting;
}

double efficiency(Process process) { return process == Process::tig_141 ? 0.6 : 0.8; }

ArcFigures arc_figures(const SettingCard& card, const Shop& shop, const Section& section) {
    const ArcSetting setting = arc_setting(card, shop);
    ArcFigures figures;
    figures.state = arc_state(setting);

    // Power and heat input.
    figures.current_a = setting.current_a;
    figures.efficiency = efficiency(card.process);
    figures.arc_power_w = card.volts_v * setting.current_a;
    figures.net_power_w = figures.efficiency * figures.arc_power_w;
    const bool moves = card.travel_m_per_s > 0;
    figures.arc_energy_j_per_m = moves ? figures.arc_power_w / card.travel_m_per_s : 0;
    figures.heat_input_j_per_m = figures.efficiency * figures.arc_energy_j_per_m;

    // Metal laid and its shape.
    figures.deposit_m3_per_s = deposit_m3_per_s(setting, figures.state.transfer);
    figures.deposit_kg_per_s = figures.deposit_m3_per_s * material::density_kg_per_m3(setting.wire.metal);
    figures.deposit_area_m2 = moves ? figures.deposit_m3_per_s / card.travel_m_per_s : 0;
    figures.penetration_m = penetration_m(card.process, setting.current_a, card.volts_v, card.travel_m_per_s);
    const BeadShape shape = bead_shape(section.type, figures.deposit_area_m2, section.thinner_m(), section.root_gap_m,
                                       figures.penetration_m);
    figures.leg_m = shape.leg_m;
    figures.throat_m = shape.throat_m;
    figures.face_width_m = shape.width_m;
    figures.source_sigma_m = heat_spread_m(shape.width_m);

    // A plug: the hole of sheet a filled flush with a tenth on top, the arc circling within the hole.
    if (section.type == part::JointType::plug) {
        const double hole_m3 = std::numbers::pi / 4 * section.size_m * section.size_m * section.thickness_a_m;
        figures.leg_m = 0;
        figures.throat_m = section.thickness_a_m;
        figures.fill_s = figures.deposit_m3_per_s > 0 ? (1 + convex_share) * hole_m3 / figures.deposit_m3_per_s : 0;
        figures.source_sigma_m = std::max(2e-3, section.size_m / 4);
    }
    return figures;
}

} // namespace holdtrue::arc
