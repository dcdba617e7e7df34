#include "app/benches/card_fields.h"

#include "app/benches/common.h"
#include "arc/power_source.h"
#include "arc/process_words.h"
#include "material/gas_words.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

using Changed = std::optional<std::string>;

void draw_wire_and_gas(Ui& ui, const arc::Shop& shop, arc::SettingCard& card, Changed& changed) {
    ImGui::TextUnformatted(ui.tr("Wire"));
    ImGui::SetNextItemWidth(-1);
    const auto wire_at = std::ranges::find(shop.wires, card.wire, &arc::Wire::id);
    if (ImGui::BeginCombo("##wire", wire_at == shop.wires.end() ? "?" : wire_words(ui, *wire_at).c_str())) {
        for (const arc::Wire& wire : shop.wires)
            if (ImGui::Selectable(wire_words(ui, wire).c_str(), wire.id == card.wire)) {
                card.wire = wire.id;
                card.process = wire.process;
                if (!arc::needs_gas(wire.process))
                    card.gas.clear();
                else if (card.gas.empty() && !shop.gases.empty())
                    card.gas = shop.gases.front().id;
                changed = "wire";
            }
        ImGui::EndCombo();
    }
    note(ui, "Wire");
    if (!arc::needs_gas(card.process))
        return;
    ImGui::TextUnformatted(ui.tr("Gas"));
    ImGui::SetNextItemWidth(-1);
    const auto gas_at = std::ranges::find(shop.gases, card.gas, &arc::Gas::id);
    if (ImGui::BeginCombo("##gas", gas_at == shop.gases.end() ? "?" : material::with_group(*gas_at).c_str())) {
        for (const arc::Gas& gas : shop.gases)
            if (ImGui::Selectable(material::with_group(gas).c_str(), gas.id == card.gas)) {
                card.gas = gas.id;
                changed = "gas";
            }
        ImGui::EndCombo();
    }
    note(ui, "Gas");
    if (quantity_field(ui, worded("Gas flow"), card.gas_flow_m3_per_s, units::flow, 4 * units::litre_per_minute,
                       25 * units::litre_per_minute, ui.units == units::System::metric ? 0.5 : 1))
        changed = "gas flow";
}

// The dial's own marks beside the real unit, where the user measured them.
void dial_words(Ui& ui, const std::optional<arc::Dial>& dial, double value) {
    if (!dial)
        return;
    const auto mark = arc::mark_if_measured(*dial, value);
    ImGui::PushFont(ui.fonts.small);
    quiet_text(
        ui, mark
                ? ui.words({worded("dial '{0}' at {1}"), {Sentence::of_file(dial->name), units::number_text(*mark, 1)}})
                : ui.words({worded("outside the marks measured on dial '{0}'"), {Sentence::of_file(dial->name)}}));
    ImGui::PopFont();
}

void draw_fields(Ui& ui, const arc::Shop& shop, arc::SettingCard& card, Changed& changed) {
    const arc::PowerSource& source = shop.sources.front();
    const bool metric = ui.units == units::System::metric;
    if (quantity_field(ui, worded("Volts"), card.volts_v, units::voltage, source.volts_low_v, source.volts_high_v, 0.5))
        changed = "volts";
    dial_words(ui, source.volts_dial, card.volts_v);
    if (quantity_field(ui, worded("Wire feed"), card.wire_feed_m_per_s, units::wire_feed, source.feed_low_m_per_s,
                       source.feed_high_m_per_s, metric ? 0.2 : 10))
        changed = "wire feed";
    dial_words(ui, source.feed_dial, card.wire_feed_m_per_s);
    if (quantity_field(ui, worded("Travel speed"), card.travel_m_per_s, units::travel, 0.001, 0.020, metric ? 10 : 0.5))
        changed = "travel";
    if (quantity_field(ui, worded("Contact tip to work"), card.tip_distance_m, units::length, 0.006, 0.030,
                       metric ? 1 : 0.0625))
        changed = "tip distance";
    ImGui::TextUnformatted(ui.tr("Torch"));
    if (const auto motion = choice(ui, "motion", {worded("push"), worded("drag")}, static_cast<int>(card.motion))) {
        card.motion = static_cast<arc::TorchMotion>(*motion);
        changed = "motion";
    }
    ImGui::TextUnformatted(ui.tr("Wire polarity"));
    if (const auto polarity =
            choice(ui, "polarity", {worded("wire +"), worded("wire −")}, static_cast<int>(card.polarity))) {
        card.polarity = static_cast<arc::Polarity>(*polarity);
        changed = "polarity";
    }
    double aim_percent = 100 * card.aim;
    ImGui::TextUnformatted(ui.tr("Share of the arc on the first member"));
    if (number_field(ui, worded("Share of the arc on the first member"), aim_percent, "%.0f %%", 0, 100, 5)) {
        card.aim = aim_percent / 100;
        changed = "aim";
    }
    bool preheats = card.preheat_k > 0;
    if (check(ui, worded("Preheat"), preheats)) {
        card.preheat_k = preheats ? 0 : units::celsius(100);
        changed = "preheat on";
    }
    if (card.preheat_k > 0 && quantity_field(ui, worded("Preheat to"), card.preheat_k, units::temperature,
                                             units::celsius(30), units::celsius(250), 10))
        changed = "preheat";
    if (card.plug_s > 0 || std::ranges::find(card.groups, "plugs") != card.groups.end()) {
        if (quantity_field(ui, worded("Time in each plug"), card.plug_s, units::time, 0, 30, 0.5))
            changed = "plug";
        quiet_text(ui, ui.tr("0: as long as filling the hole takes"));
    }
}

} // namespace

std::optional<std::string> edit_card(Ui& ui, const arc::Shop& shop, arc::SettingCard& card) {
    Changed changed;
    draw_wire_and_gas(ui, shop, card, changed);
    draw_fields(ui, shop, card, changed);
    return changed;
}

} // namespace holdtrue::app
