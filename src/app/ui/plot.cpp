#include "app/ui/plot.h"

#include "text/true_minus.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

// What is written at the axes, by the chart's own function.
auto set_for_reading(const std::function<std::string(double)>& text) {
    return [&text](double value) { return text::true_minus(text(value)); };
}

} // namespace

std::optional<double> draw_plot(Ui& ui, const Plot& plot, const std::vector<PlotPoint>& points) {
    const auto x_text = set_for_reading(plot.x_text), y_text = set_for_reading(plot.y_text);
    ImGui::PushFont(ui.fonts.small);
    const ImVec2 room = ImGui::GetContentRegionAvail(), at = ImGui::GetCursorScreenPos();
    const ImVec2 size{std::max(room.x, ui.px(120)), std::max(room.y, ui.px(80))};
    ImGui::InvisibleButton("plot", size);
    note(ui, "plot");
    pass_by(ui);
    if (points.empty() || (points.size() < 2 && !plot.x_range)) {
        ImGui::PopFont();
        return {};
    }
    // Where things lie.
    const auto [least, most] = std::ranges::minmax(points, {}, &PlotPoint::y);
    const auto [low_x, high_x] =
        plot.x_range.value_or(std::pair(points.front().x, std::max(points.back().x, points.front().x + 1e-9)));
    const auto [low_y, high_y] =
        plot.y_range.value_or(std::pair(least.y, std::max(most.y, least.y + 1) + 0.05 * (most.y - least.y)));
    const float line = ImGui::GetTextLineHeight();
    const float left = ui.px(64), bottom = line * (plot.x_title.empty() ? 1.0f : 2.0f) + ui.px(6);
    const ImVec2 low{at.x + left, at.y + ui.px(4) + (plot.y_title.empty() ? 0 : line + ui.px(6))},
        high{at.x + size.x - ui.px(12), at.y + size.y - bottom};
    const auto x_of = [&, from = low_x, to = high_x](double x) {
        return low.x + (high.x - low.x) * static_cast<float>((x - from) / (to - from));
    };
    const auto y_of = [&, from = low_y, to = high_y](double y) {
        return high.y - (high.y - low.y) * static_cast<float>((y - from) / (to - from));
    };
    ImDrawList& draw = *ImGui::GetWindowDrawList();

    // The axes.
    for (const double y : ticks(low_y, high_y, std::max(2, static_cast<int>((high.y - low.y) / ui.px(34))), false)) {
        const std::string text = y_text(y);
        draw.AddLine({low.x, y_of(y)}, {high.x, y_of(y)}, ui.theme.line, 1);
        draw.AddText({low.x - ImGui::CalcTextSize(text.c_str()).x - ui.px(6), y_of(y) - line / 2}, ui.theme.quiet,
                     text.c_str());
    }
    const int most_ticks = std::max(2, static_cast<int>((high.x - low.x) / ui.px(90)));
    for (const double x : ticks(low_x, high_x, most_ticks, plot.x_is_time)) {
        if (plot.x_is_count && x != std::round(x))
            continue;
        const std::string text = x_text(x);
        draw.AddLine({x_of(x), high.y}, {x_of(x), high.y + ui.px(4)}, ui.theme.quiet, 1);
        draw.AddText({x_of(x) - ImGui::CalcTextSize(text.c_str()).x / 2, high.y + ui.px(5)}, ui.theme.quiet,
                     text.c_str());
    }
    draw.AddText({at.x, at.y}, ui.theme.quiet, plot.y_title.c_str());
    draw.AddText({(low.x + high.x - ImGui::CalcTextSize(plot.x_title.c_str()).x) / 2, high.y + line + ui.px(5)},
                 ui.theme.quiet, plot.x_title.c_str());

    // What is plotted.
    if (plot.line_y) {
        const float y = y_of(*plot.line_y);
        draw.AddLine({low.x, y}, {high.x, y}, ui.theme.caution, ui.px(1.5f));
        draw.AddText({low.x + ui.px(4), y - line - ui.px(1)}, ui.theme.caution, plot.line_title.c_str());
    }
    std::vector<ImVec2> curve;
    curve.reserve(points.size());
    for (const PlotPoint& point : points)
        curve.emplace_back(x_of(point.x), y_of(point.y));
    draw.AddPolyline(curve.data(), static_cast<int>(curve.size()), ui.theme.accent, 0, ui.px(2));
    if (plot.dots)
        for (const ImVec2& place : curve)
            draw.AddCircleFilled(place, ui.px(4), ui.theme.accent);
    if (plot.marker_x) {
        const float x = x_of(std::clamp(*plot.marker_x, low_x, high_x));
        draw.AddLine({x, low.y}, {x, high.y}, ui.theme.ink, ui.px(1.5f));
        // On the side where there is room, on a patch of sheet that reads over the curve.
        const std::string text = x_text(*plot.marker_x);
        const ImVec2 wide = ImGui::CalcTextSize(text.c_str());
        const float from = x + ui.px(5) + wide.x < high.x ? x + ui.px(5) : x - ui.px(5) - wide.x;
        draw.AddRectFilled({from - ui.px(2), low.y}, {from + wide.x + ui.px(2), low.y + wide.y}, ui.theme.sheet);
        draw.AddText({from, low.y}, ui.theme.ink, text.c_str());
    }

    std::optional<double> clicked;
    if (ImGui::IsItemHovered()) {
        const float x_px = std::clamp(ImGui::GetIO().MousePos.x, low.x, high.x);
        const double x = low_x + (high_x - low_x) * double((x_px - low.x) / (high.x - low.x));
        const auto next = std::ranges::lower_bound(points, x, {}, &PlotPoint::x);
        const PlotPoint& near = next == points.end() ? points.back() : *next;
        draw.AddCircleFilled({x_of(near.x), y_of(near.y)}, ui.px(4), ui.theme.ink);
        ImGui::SetTooltip("%s  %s", x_text(near.x).c_str(), y_text(near.y).c_str());
        if (ImGui::IsItemClicked())
            clicked = x;
    }
    ImGui::PopFont();
    return clicked;
}

namespace {

struct Answer {
    int pointed = -1;
    std::optional<int> pressed;
};

// A control over each bar, as high as the chart; Tab stops at the chosen one.
Answer lay_columns(Ui& ui, const Bars& bars, ImVec2 first, ImVec2 size) {
    Answer answer;
    const int count = static_cast<int>(bars.sizes.size()), stop = std::clamp(bars.chosen, 0, count - 1);
    for (int k = 0; k < count; ++k) {
        const ImVec2 low{first.x + size.x * static_cast<float>(k), first.y};
        ImGui::SetCursorScreenPos(low);
        ImGui::PushID(k);
        if (ImGui::InvisibleButton("bar", size))
            answer.pressed = k;
        const ImGuiID item = ImGui::GetItemID();
        ImGui::RenderNavHighlight({low, {low.x + size.x, low.y + size.y}}, item);
        note(ui, ("bar " + std::to_string(k + 1)).c_str());
        if (k != stop)
            pass_by(ui);
        if (ImGui::IsItemHovered()) { // by the pointer or the keyboard's frame
            answer.pointed = k;
            tip(ui, text::true_minus(bars.text(k)));
        }
        ImGui::PopID();
    }
    return answer;
}

} // namespace

std::optional<int> draw_bars(Ui& ui, const Bars& bars) {
    ImGui::PushFont(ui.fonts.small);
    const ImVec2 room = ImGui::GetContentRegionAvail(), at = ImGui::GetCursorScreenPos();
    const float line = ImGui::GetTextLineHeight();
    const ImVec2 size{std::max(room.x, ui.px(120)), std::max(room.y - 2 * line - ui.px(4), ui.px(60))};
    ImGui::Dummy(size);
    note(ui, "bars");
    const ImVec2 after = ImGui::GetCursorScreenPos();
    double largest = 0;
    for (const double bar : bars.sizes)
        largest = std::max(largest, std::abs(bar));
    if (bars.sizes.empty() || largest <= 0) {
        ImGui::PopFont();
        return {};
    }
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    // Zero in the middle, or at the foot where no bar goes below it; half a line of room for the figures at both ends.
    const bool below = std::ranges::any_of(bars.sizes, [](double bar) { return bar < 0; });
    // One line for each title above them.
    const float chosen_y = at.y + (bars.size_title.empty() ? 0 : line);
    const float top = chosen_y + line * (bars.chosen_title.empty() ? 0.5f : 1.5f), foot = at.y + size.y - line * 0.5f;
    const float zero = below ? (top + foot) / 2 : foot, tallest = zero - top;

    // The axis at the left, with lines across; the bars stand right of its figures.
    const int most_marks = std::max(2, static_cast<int>((foot - top) / (2 * line)));
    std::vector<Tick> marks = ticks_in(bars.unit, below ? -largest : 0, largest, most_marks);
    if (bars.counts)
        std::erase_if(marks, [](const Tick& mark) { return mark.value != std::round(mark.value); });
    float figures = 0;
    for (const Tick& mark : marks)
        figures = std::max(figures, ImGui::CalcTextSize(mark.text.c_str()).x);
    const float left = at.x + figures + ui.px(6), right = at.x + size.x;
    for (const Tick& mark : marks) {
        const float y = zero - tallest * static_cast<float>(mark.value / largest);
        draw.AddLine({left, y}, {right, y}, mark.value == 0 ? ui.theme.quiet : ui.theme.line, ui.px(1));
        draw.AddText({left - ui.px(6) - ImGui::CalcTextSize(mark.text.c_str()).x, y - line / 2}, ui.theme.quiet,
                     mark.text.c_str());
    }
    draw.AddText(at, ui.theme.quiet, bars.size_title.c_str());

    // Round values along the foot.
    const auto centred = [&](float x, float y, const std::string& words, Colour colour) {
        const float wide = ImGui::CalcTextSize(words.c_str()).x;
        draw.AddText({std::clamp(x - wide / 2, left, std::max(left, right - wide)), y}, colour, words.c_str());
    };
    const int most_ticks = std::max(2, static_cast<int>((right - left) / ui.px(60)));
    for (const double tick : ticks(bars.foot_low, bars.foot_high, most_ticks, false))
        if (tick == std::round(tick))
            centred(left +
                        (right - left) * static_cast<float>((tick - bars.foot_low) / (bars.foot_high - bars.foot_low)),
                    at.y + size.y + ui.px(1), text::true_minus(units::number_text(tick, 0)), ui.theme.quiet);
    centred((left + right) / 2, at.y + size.y + line, bars.foot_title, ui.theme.quiet);

    const float step = (right - left) / static_cast<float>(bars.sizes.size());
    const Answer answer = lay_columns(ui, bars, {left, at.y}, {step, size.y});
    ImGui::SetCursorScreenPos(after);
    for (std::size_t k = 0; k < bars.sizes.size(); ++k) {
        const int index = static_cast<int>(k);
        const float height = tallest * static_cast<float>(bars.sizes[k] / largest);
        const float x = left + step * static_cast<float>(k);
        if (index == bars.chosen) // seen however small its bar is
            draw.AddLine({x + step / 2, top}, {x + step / 2, zero}, ui.theme.caution, ui.px(1));
        const Colour colour = index == bars.chosen      ? ui.theme.caution
                              : index == answer.pointed ? ui.theme.ink
                                                        : ui.theme.accent;
        draw.AddRectFilled({x + step * 0.12f, std::min(zero, zero - height)},
                           {x + step * 0.88f, std::max(zero, zero - height) + 1}, colour);
    }
    if (bars.chosen >= 0)
        centred(left + step * (static_cast<float>(bars.chosen) + 0.5f), chosen_y, bars.chosen_title, ui.theme.caution);
    ImGui::PopFont();
    return answer.pressed;
}

} // namespace holdtrue::app
