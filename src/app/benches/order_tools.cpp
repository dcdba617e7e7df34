#include "app/benches/order_tools.h"

#include <algorithm>
#include <array>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

void draw_pattern(Ui& ui, const Session& session, OrderState& state, Actions& out) {
    const part::Part& part = session.part();
    heading(ui, worded("Lay out whole joints"));
    quiet_text(ui, ui.tr("Which joints, which kind of pass, in which order. Every move can be changed afterwards."));
    state.joints.resize(part.joints.size(), false);
    for (Index j = 0; j < part.joints.size(); ++j) {
        // Names flow in rows like words.
        const std::string& name = part.joints[j].name;
        if (j > 0)
            same_line_if_room(ui, name.c_str());
        const bool chosen = state.joints[j];
        if (chosen) {
            ImGui::PushStyleColor(ImGuiCol_Button, ImGui::ColorConvertU32ToFloat4(ui.theme.accent_wash));
            ImGui::PushStyleColor(ImGuiCol_Border, ImGui::ColorConvertU32ToFloat4(ui.theme.accent));
        }
        if (ImGui::Button(name.c_str()))
            state.joints[j] = !chosen;
        note(ui, name.c_str());
        if (chosen)
            ImGui::PopStyleColor(2);
    }
    std::vector<part::PassKind> kinds; // that the part has
    std::vector<const char*> names;
    for (const auto& [kind, name] : {std::pair{part::PassKind::tack, worded("tacks")},
                                     {part::PassKind::run, worded("seams")},
                                     {part::PassKind::plug, worded("plugs")}})
        if (std::ranges::find(part.passes, kind, &part::Pass::kind) != part.passes.end()) {
            kinds.push_back(kind);
            names.push_back(name);
        }
    if (kinds.empty())
        return;
    state.kind = std::clamp(state.kind, 0, static_cast<int>(kinds.size()) - 1);
    if (const auto kind = choice(ui, "kind", names, state.kind))
        state.kind = *kind;
    constexpr std::array patterns{worded("along"), worded("backstep"), worded("skip"), worded("middle outwards"),
                                  worded("sides by turns")};
    if (const auto pattern = choice(ui, "pattern", {patterns.begin(), patterns.end()}, state.pattern))
        state.pattern = *pattern;
    act::LayOut action;
    action.kind = kinds[Index(state.kind)];
    action.pattern = static_cast<Pattern>(state.pattern);
    for (Index j = 0; j < part.joints.size(); ++j)
        if (state.joints[j])
            action.joints.push_back(static_cast<int>(j));
    action_button(ui, session, out, worded("Add to the plan"), action, Weight::main);
}

// In the room of the longer of the two sentences, so that nothing below moves when one takes the other's place.
void draw_where_added(Ui& ui, int behind_move) {
    const std::string behind = ui.words({worded("What is added here goes behind move {0}, the chosen one."),
                                         {std::to_string(std::max(behind_move, 1))}});
    const std::string at_end = ui.tr(worded("What is added here goes to the end of the plan."));
    const float width = ImGui::GetContentRegionAvail().x, top = ImGui::GetCursorPosY();
    const auto height = [&](const std::string& text) {
        return ImGui::CalcTextSize(text.c_str(), nullptr, false, width).y;
    };
    quiet_text(ui, behind_move > 0 ? behind : at_end);
    ImGui::SetCursorPosY(top + std::max(height(behind), height(at_end)) + ImGui::GetStyle().ItemSpacing.y);
}

void draw_other_moves(Ui& ui, const Session& session, OrderState& state, Actions& out) {
    const part::Part& part = session.part();
    // What is not a weld goes behind the chosen move.
    const int last = static_cast<int>(session.plan().moves.size()) - 1;
    const int at = session.view().move >= 0 && session.view().move < last ? session.view().move + 1 : -1;
    draw_where_added(ui, at);
    const weld::JobState before = session.job_state_at(at);
    heading(ui, worded("Wait"));
    if (const auto kind = choice(ui, "wait", {worded("a time"), worded("until below")}, state.wait_until ? 1 : 0))
        state.wait_until = *kind == 1;
    if (state.wait_until)
        quantity_field(ui, worded("Temperature"), state.until_below_k, units::temperature, 303.15, 673.15, 10);
    else
        quantity_field(ui, worded("Time"), state.wait_s, units::time, 5, 3600, 15);
    const double time_s = state.wait_until ? 0 : state.wait_s,
                 until_below_k = state.wait_until ? state.until_below_k : 0;
    action_button(ui, session, out, worded("Add the wait"), act::AddWait{time_s, until_below_k, at});
    constexpr text::Wording everywhere = worded("Put it before every run");
    same_line_if_room(ui, ui.tr(everywhere));
    action_button(ui, session, out, everywhere, act::WaitBeforeRuns{time_s, until_below_k});
    if (part.poses.size() > 1) {
        heading(ui, worded("Turn the part"));
        for (Index p = 0; p < part.poses.size(); ++p) {
            const Action action = act::AddTurn{static_cast<int>(p), at};
            ImGui::PushID(static_cast<int>(p));
            if (p > 0)
                same_line_if_room(ui, ui.tr(part.poses[p].name));
            action_button(ui, session, out, part.poses[p].name.c_str(), action);
            ImGui::PopID();
        }
    }
    if (!part.clamps.empty()) {
        heading(ui, worded("Clamps"));
        for (Index c = 0; c < part.clamps.size(); ++c) {
            const bool fixed = before.fixed[c];
            ImGui::PushID(static_cast<int>(c));
            ImGui::AlignTextToFramePadding();
            ImGui::TextUnformatted(part.clamps[c].name.c_str());
            ImGui::SameLine();
            ImGui::TextDisabled("%s", ui.tr(fixed ? worded("holds") : worded("is free")));
            const char* english = fixed ? worded("Free it") : worded("Fix it");
            same_line_right(ui, ui.tr(english));
            action_button(ui, session, out, english, act::AddClamp{static_cast<int>(c), !fixed, at});
            ImGui::PopID();
        }
    }
}

} // namespace

void draw_order_tools(Ui& ui, const Session& session, OrderState& state, Actions& out) {
    draw_pattern(ui, session, state, out);
    ImGui::Dummy({0, ui.px(6)});
    draw_other_moves(ui, session, state, out);
    ImGui::Dummy({0, ui.px(6)});
}

} // namespace holdtrue::app
