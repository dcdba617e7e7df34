#include "app/benches/class_distribution.h"

#include <algorithm>

namespace holdtrue::app {
namespace {

// Who passed is filled, who did not is hatched: the shape says what the colour says.
void draw_passed(Ui& ui, ImDrawList& draw, const ImVec2& low, const ImVec2& high) {
    draw.AddRectFilled(low, high, ui.theme.accent);
}

void draw_not_passed(Ui& ui, ImDrawList& draw, const ImVec2& low, const ImVec2& high) {
    const float width = high.x - low.x, height = high.y - low.y;
    for (float at = ui.px(6); at < width + height; at += ui.px(6)) {
        const float left = std::max(0.0f, at - height), right = std::min(width, at);
        draw.AddLine({low.x + left, low.y + at - left}, {low.x + right, low.y + at - right}, ui.theme.quiet, ui.px(1));
    }
    draw.AddRect(low, high, ui.theme.quiet);
}

} // namespace

void draw_distribution(Ui& ui, const record::ClassSummary& summary, double pass_mark) {
    ImGui::PushFont(ui.fonts.small);
    const float line = ImGui::GetTextLineHeight();
    const ImVec2 room = ImGui::GetContentRegionAvail(), at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton("distribution", {std::max(room.x, ui.px(120)), std::max(room.y, ui.px(80))});
    note(ui, "distribution");
    pass_by(ui);
    const ImVec2 low{at.x + ui.px(14), at.y + 3 * line},
        high{at.x + room.x - ui.px(16), at.y + room.y - 2 * line - ui.px(8)};
    const float bar = (high.x - low.x) / 10;
    const float plan = (high.y - low.y) / static_cast<float>(summary.fullest_ten());
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const auto text = [&](float x, float y, const std::string& words, Colour colour) {
        draw.AddText({x - ImGui::CalcTextSize(words.c_str()).x / 2, y}, colour, words.c_str());
    };

    float key_x = low.x;
    for (const auto& [shape, english] :
         {std::pair{&draw_passed, worded("passed")}, {&draw_not_passed, worded("not passed")}}) {
        const std::string words = ui.tr(english);
        shape(ui, draw, {key_x, at.y + 0.15f * line}, {key_x + 0.7f * line, at.y + 0.85f * line});
        draw.AddText({key_x + line, at.y}, ui.theme.ink, words.c_str());
        key_x += 2 * line + ImGui::CalcTextSize(words.c_str()).x;
    }
    for (std::size_t k = 0; k < summary.tens.size(); ++k) {
        const record::ClassSummary::Ten& ten = summary.tens[k];
        const float left = low.x + bar * static_cast<float>(k) + ui.px(2), right = left + bar - ui.px(4);
        const float middle = high.y - plan * static_cast<float>(ten.passed);
        const float top = high.y - plan * static_cast<float>(ten.plans());
        if (ten.passed > 0)
            draw_passed(ui, draw, {left, middle}, {right, high.y});
        if (ten.not_passed > 0)
            draw_not_passed(ui, draw, {left, top}, {right, middle});
        if (ten.plans() > 0)
            text(left + bar / 2, top - line, std::to_string(ten.plans()), ui.theme.ink);
    }
    draw.AddLine({low.x, high.y}, {high.x, high.y}, ui.theme.quiet, ui.px(1));
    for (int tick = 0; tick <= 100; tick += 10)
        text(low.x + bar * static_cast<float>(tick) / 10, high.y + ui.px(3), std::to_string(tick), ui.theme.quiet);
    text((low.x + high.x) / 2, high.y + line + ui.px(5), ui.tr("mark of 100, and how many plans have it"),
         ui.theme.quiet);
    const float pass = low.x + (high.x - low.x) * static_cast<float>(pass_mark / 100);
    draw.AddLine({pass, at.y + 2 * line}, {pass, high.y}, ui.theme.caution, ui.px(2));
    text(pass, at.y + line, ui.words({worded("passed from {0}"), {units::number_text(pass_mark, 0)}}),
         ui.theme.caution);
    ImGui::PopFont();
}

} // namespace holdtrue::app
