#include "app/benches/bead_section.h"
#include "app/benches/benches.h"
#include "app/benches/card_fields.h"

#include <algorithm>
#include <array>

namespace holdtrue::app {

namespace {

// What the size of a weld is called.
const char* size_of(part::JointType type) {
    switch (type) {
    case part::JointType::butt:
        return worded("Depth of the weld");
    case part::JointType::edge:
        return worded("Throat");
    case part::JointType::plug:
        return worded("Hole");
    default:
        return worded("Leg");
    }
}

bool edit_section(Ui& ui, arc::Section& section) {
    bool changed = false;
    constexpr std::array types{part::JointType::fillet, part::JointType::lap,  part::JointType::butt,
                               part::JointType::corner, part::JointType::edge, part::JointType::plug};
    const std::vector<const char*> names{worded("fillet"), worded("lap"),  worded("butt"),
                                         worded("corner"), worded("edge"), worded("plug")};
    const auto current = static_cast<int>(std::ranges::find(types, section.type) - types.begin());
    if (const auto type = choice(ui, "type", names, current)) {
        section.type = types[static_cast<std::size_t>(*type)];
        changed = true;
    }
    const double step = ui.units == units::System::metric ? 0.5 : 0.0313;
    changed =
        quantity_field(ui, worded("First sheet"), section.thickness_a_m, units::length, 0.0008, 0.025, step) || changed;
    changed = quantity_field(ui, worded("Second sheet"), section.thickness_b_m, units::length, 0.0008, 0.025, step) ||
              changed;
    changed = quantity_field(ui, size_of(section.type), section.size_m, units::length, 0.001, 0.025, step) || changed;
    changed =
        quantity_field(ui, worded("Gap at the root"), section.root_gap_m, units::length, 0, 0.006, step) || changed;
    return changed;
}

void draw_window(Ui& ui, const arc::Window& window) {
    quiet_text(ui, ui.tr("Anywhere between these no rule fails and no caution is added:"));
    const auto volts = [](double value) { return units::number_text(value, 1); };
    label_value(ui, worded("Volts"), volts(window.volts.low.value) + " – " + volts(window.volts.high.value) + " V");
    if (window.card.process == arc::Process::tig_141)
        label_value(ui, worded("Current"),
                    units::number_text(window.drive.low.value, 0) + " – " +
                        units::number_text(window.drive.high.value, 0) + " A");
    else
        label_value(ui, worded("Wire feed"),
                    units::wire_feed_text(window.drive.low.value, ui.units) + " – " +
                        units::wire_feed_text(window.drive.high.value, ui.units));
    label_value(ui, worded("Travel speed"),
                units::travel_text(window.travel.low.value, ui.units) + " – " +
                    units::travel_text(window.travel.high.value, ui.units));
}

} // namespace

void draw_check(Ui& ui, const Session& session, CheckState& state, Actions& out) {
    (void)state;
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const QuickCard* quick = session.quick_card();
    if (!quick || !session.check_shop())
        return quiet_text(ui, ui.tr("No shop file was found."));
    begin_sheet(ui, "card", {ui.px(372), room.y});
    title(ui, ui.tr("Quick check of a setting"));
    quiet_text(
        ui, ui.words({worded("For any joint, with what {0} has."), {Sentence::of_file(session.check_shop()->title)}}));
    arc::SettingCard card = quick->card;
    arc::Section section = quick->section;
    heading(ui, worded("The joint"));
    const bool joint_changed = edit_section(ui, section);
    heading(ui, worded("The settings"));
    action_button(ui, session, out, worded("Propose settings"), act::ProposeQuick{}, Weight::main);
    if (session.quick_window())
        draw_window(ui, *session.quick_window());
    if (edit_card(ui, *session.check_shop(), card) || joint_changed)
        out.push_back(act::QuickCheck{card, section});
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    begin_sheet(ui, "bead", {(room.x - ui.px(372) - ui.px(20)) / 2, room.y});
    heading(ui, worded("The bead on the joint"));
    const CardCheck* check = session.quick_check();
    if (check) {
        draw_bead_section(ui, *check, {0, std::min(ui.px(260), room.y * 0.36f)});
        draw_figures(ui, *check);
    } else
        quiet_text(ui, ui.tr("This card cannot be judged: choose a wire and a gas that the shop has."));
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    begin_sheet(ui, "rules", {0, room.y});
    if (check)
        draw_findings(ui, *check);
    ImGui::Dummy({0, ui.px(4)});
    quiet_text(ui,
               ui.tr("A start for trials, not a welding procedure. Local codes and a qualified procedure come first."));
    end_sheet();
}

} // namespace holdtrue::app
