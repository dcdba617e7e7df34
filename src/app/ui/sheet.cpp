#include "app/ui/ui.h"

#include <imgui_internal.h>

#include <algorithm>
#include <string>

namespace holdtrue::app {

Colour colour_of(const Theme& theme, grading::Verdict verdict) {
    return verdict == grading::Verdict::pass      ? theme.good
           : verdict == grading::Verdict::caution ? theme.caution
                                                  : theme.bad;
}

void verdict_sign(Ui& ui, grading::Verdict verdict) {
    const float size = ImGui::GetTextLineHeight();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy({size, size});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const Colour colour = colour_of(ui.theme, verdict);
    const float thick = ui.px(2);
    const auto point = [&](double x, double y) {
        return ImVec2(at.x + static_cast<float>(x) * size, at.y + static_cast<float>(y) * size);
    };
    switch (verdict) {
    case grading::Verdict::pass:
        draw.AddLine(point(0.15, 0.55), point(0.4, 0.8), colour, thick);
        draw.AddLine(point(0.4, 0.8), point(0.85, 0.2), colour, thick);
        break;
    case grading::Verdict::caution:
        draw.AddTriangle(point(0.5, 0.1), point(0.93, 0.88), point(0.07, 0.88), colour, thick);
        draw.AddLine(point(0.5, 0.38), point(0.5, 0.62), colour, thick);
        draw.AddCircleFilled(point(0.5, 0.76), thick * 0.6f, colour);
        break;
    case grading::Verdict::fail:
        draw.AddLine(point(0.2, 0.2), point(0.8, 0.8), colour, thick);
        draw.AddLine(point(0.8, 0.2), point(0.2, 0.8), colour, thick);
        break;
    }
}

void share_bar(Ui& ui, double share, Colour colour, float height_px) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(height_px);
    ImGui::Dummy({width, height});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const float filled = width * static_cast<float>(std::clamp(share, 0.0, 1.0));
    draw.AddRectFilled(at, {at.x + width, at.y + height}, ui.theme.raised, height / 2);
    draw.AddRect(at, {at.x + width, at.y + height}, ui.theme.line, height / 2);
    if (filled > height)
        draw.AddRectFilled(at, {at.x + filled, at.y + height}, colour, height / 2);
}

void begin_sheet(Ui& ui, const char* id, ImVec2 size, bool scrolls) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(16), ui.px(14)});
    ImGui::BeginChild(id, size, false,
                      ImGuiWindowFlags_AlwaysUseWindowPadding |
                          (scrolls ? 0 : ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse));
    ImGui::PopStyleVar();
    if (!scrolls)
        return;
    ImGuiWindow* sheet = ImGui::GetCurrentWindow();
    ui.placed.push_back(
        {std::string("sheet ") + id, sheet->Pos, ImVec2(sheet->Pos.x + sheet->Size.x, sheet->Pos.y + sheet->Size.y)});
    ui.placed.back().item = sheet->ID;
    ui.placed.back().window = sheet;
    ui.placed.back().sheet = true;
}

void end_sheet() { ImGui::EndChild(); }

void begin_above_footer(const char* id) {
    const float footer = ImGui::GetFrameHeight() + ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginChild(id, {0, -footer});
}

} // namespace holdtrue::app
