#include "app/ui/ui.h"

#include <imgui_internal.h>

#include <algorithm>

namespace holdtrue::app {

void note(Ui& ui, const char* english, bool enabled) {
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    const ImVec2 middle{(low.x + high.x) / 2, (low.y + high.y) / 2};
    const ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 clip_low = draw.GetClipRectMin(), clip_high = draw.GetClipRectMax();
    const bool in_sight =
        middle.x >= clip_low.x && middle.x < clip_high.x && middle.y >= clip_low.y && middle.y < clip_high.y;
    ui.placed.push_back({english, low, high, enabled, in_sight, ImGui::GetItemID(), ImGui::GetCurrentWindow()});
}

void pass_by(Ui& ui) { ui.placed.back().stop = false; }

void note_row(Ui& ui, const char* english) {
    note(ui, english);
    Placed& row = ui.placed.back();
    const ImVec2 clip_low = ImGui::GetWindowDrawList()->GetClipRectMin(),
                 clip_high = ImGui::GetWindowDrawList()->GetClipRectMax();
    row.high.x = std::min(row.high.x, clip_high.x);
    const float middle = (row.low.y + row.high.y) / 2;
    row.in_sight = row.low.x < row.high.x && middle >= clip_low.y && middle < clip_high.y;
}

} // namespace holdtrue::app
