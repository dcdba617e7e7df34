#include "app/benches/card_fields.h"
#include "app/session/format.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

grading::Verdict same(arc::Verdict verdict) { return static_cast<grading::Verdict>(verdict); }

// How far the face away from the arc is from melting through.
std::string back_words(const Ui& ui, const arc::BackFace& back) {
    if (back.molten_share <= 0)
        return ui.words({worded("solid, {0} to spare"), {units::difference_text(back.spare_k, ui.units)}});
    if (back.molten_share < 1)
        return ui.words({worded("{0} % molten"), {units::number_text(100 * back.molten_share, 0)}});
    return ui.tr("molten through");
}

// One rule: what was found, its figure and limit, what to change, and where the rule comes from.
void draw_finding(Ui& ui, const arc::Finding& finding) {
    verdict_sign(ui, same(finding.verdict));
    ImGui::SameLine(0, ui.px(6));
    ImGui::BeginGroup();
    const std::string sentence = ui.words(finding.sentence);
    wrapped(ui, sentence);
    const auto told = [&](const Sentence& figure) { return sentence.find(ui.words(figure)) != std::string::npos; };
    if (!told(finding.measured) || !told(finding.limit))
        wrapped(ui, ui.words({worded("Found {0}; limit {1}."), {finding.measured, finding.limit}}));
    if (!finding.change.empty()) {
        ImGui::PushFont(ui.fonts.bold);
        wrapped(ui, ui.words(finding.change));
        ImGui::PopFont();
    }
    ImGui::PushFont(ui.fonts.small);
    quiet_text(ui, ui.tr(finding.source));
    ImGui::PopFont();
    ImGui::EndGroup();
    note(ui, finding.rule.c_str());
    ImGui::Dummy({0, ui.px(4)});
}

} // namespace

void draw_figures(Ui& ui, const CardCheck& check) {
    const arc::SetupFigures& figures = check.figures;
    label_value(ui, worded("Current"), units::number_text(figures.arc.current_a, 0) + " A");
    label_value(ui, worded("Arc power, into the metal"),
                units::number_text(figures.arc.arc_power_w / 1000, 2) + " kW, " +
                    units::number_text(figures.arc.net_power_w / 1000, 2) + " kW");
    const bool plug = check.section.type == part::JointType::plug;
    if (plug)
        label_value(ui, worded("Time to fill the hole"), units::duration_text(figures.arc.fill_s));
    else {
        label_value(ui, worded("Heat input"), units::heat_input_text(figures.arc.heat_input_j_per_m, ui.units));
        label_value(ui, worded("Metal laid"), quantity(figures.arc.deposit_area_m2, units::area, ui.units));
        if (figures.arc.leg_m > 0)
            label_value(ui, worded("Leg, throat"),
                        units::length_text(figures.arc.leg_m, ui.units) + ", " +
                            units::length_text(figures.arc.throat_m, ui.units));
        label_value(ui, worded("Passes for the joint"), std::to_string(figures.passes));
        label_value(ui, worded("Cooling 800 to 500 °C"), units::number_text(figures.cooling.seconds(), 1) + " s");
    }
    const auto fusion = [&](const arc::MemberFusion& member) {
        return units::length_text(member.penetration_m, ui.units) + " / " +
               units::length_text(member.needed_m, ui.units);
    };
    const bool through = check.molten_through_m() > 0;
    if (!through) {
        label_value(ui, worded("Melts into the first sheet / needed"), fusion(figures.members.fusion_a));
        label_value(ui, worded("Melts into the second sheet / needed"), fusion(figures.members.fusion_b));
    }
    if (check.root_is_sheet()) {
        label_value(ui, worded("Molten through the sheet, width"),
                    through ? units::length_text(check.molten_through_m(), ui.units) : ui.tr("not through"));
    } else if (check.section.type != part::JointType::butt && check.section.type != part::JointType::edge) {
        if (!plug) // the wall of its hole is meant to melt
            label_value(ui, worded("Back of the first sheet"), back_words(ui, figures.members.back_a));
        label_value(ui, worded("Back of the second sheet"), back_words(ui, figures.members.back_b));
    }
    if (figures.duty)
        label_value(ui, worded("Duty at this current"), units::number_text(100 * *figures.duty, 0) + " %");
}

void draw_findings(Ui& ui, const CardCheck& check) {
    heading(ui, worded("What the rule book says"));
    const auto is_kept = [](const arc::Finding& finding) { return finding.verdict == arc::Verdict::pass; };
    for (const arc::Finding& finding : check.findings)
        if (!is_kept(finding))
            draw_finding(ui, finding);
    const auto kept = std::ranges::count_if(check.findings, is_kept);
    verdict_sign(ui, grading::Verdict::pass);
    ImGui::SameLine(0, ui.px(6));
    const bool open = ImGui::TreeNodeEx("kept", ImGuiTreeNodeFlags_NoTreePushOnOpen, "%s",
                                        ui.words({worded("{0} rules are kept"), {std::to_string(kept)}}).c_str());
    note(ui, "rules that are kept");
    if (!open)
        return;
    for (const arc::Finding& finding : check.findings)
        if (is_kept(finding))
            draw_finding(ui, finding);
}

} // namespace holdtrue::app
