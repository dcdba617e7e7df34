#include "app/benches/hints.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

void draw_given(Ui& ui, const Session& session) {
    const std::vector<grading::Hint>& hints = session.exercise().hints;
    for (int k = 0; k < session.hints_given(); ++k) {
        const grading::Hint& hint = hints[static_cast<std::size_t>(k)];
        ImGui::PushFont(ui.fonts.bold);
        ImGui::TextUnformatted(
            ui.words({worded("Hint {0}, −{1} points"), {std::to_string(k + 1), units::significant_text(hint.cost)}})
                .c_str());
        ImGui::PopFont();
        wrapped(ui, ui.tr(hint.text));
        ImGui::Dummy({0, ui.px(4)});
    }
}

} // namespace

void draw_hints(Ui& ui, const Session& session, Actions& out) {
    const std::vector<grading::Hint>& hints = session.exercise().hints;
    if (hints.empty())
        return;
    const int given = session.hints_given(), all = static_cast<int>(hints.size());
    if (button(ui, worded("Hints")))
        ImGui::OpenPopup("hints");
    // Beside the button, away from the nearer edge of the window: it grows as hints are given.
    const ImVec2 top = ImGui::GetItemRectMin(), bottom = ImGui::GetItemRectMax(), room = ImGui::GetIO().DisplaySize;
    const float width = ui.px(380);
    const bool upwards = bottom.y > room.y / 2;
    ImGui::SetNextWindowPos({std::min(top.x, room.x - width - ui.px(8)), upwards ? top.y : bottom.y}, ImGuiCond_Always,
                            {0, upwards ? 1.0f : 0.0f});
    ImGui::SetNextWindowSize({width, 0});
    if (!ImGui::BeginPopup("hints"))
        return;
    ImGui::PushFont(ui.fonts.bold);
    ImGui::TextUnformatted(
        ui.words({worded("{0} of {1} hints given"), {std::to_string(given), std::to_string(all)}}).c_str());
    ImGui::PopFont();
    draw_given(ui, session);
    if (given < all) {
        const std::string cost = units::significant_text(hints[static_cast<std::size_t>(given)].cost);
        wrapped(ui, ui.words({worded("The next hint costs {0} points of the mark. The remarks on a weld cost nothing: "
                                     "weld the plan and read them first."),
                              {cost}}));
        action_button(ui, session, out, worded("Take the next hint"), act::TakeHint{});
    } else
        quiet_text(ui, ui.tr("That is all of them."));
    ImGui::EndPopup();
}

} // namespace holdtrue::app
