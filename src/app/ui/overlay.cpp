#include "app/ui/overlay.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

float length(ImVec2 v) { return std::sqrt(v.x * v.x + v.y * v.y); }

bool overlaps(const Boxes& taken, const ImVec4& box) {
    return std::ranges::any_of(taken, [&](const ImVec4& other) {
        return box.x < other.z && box.z > other.x && box.y < other.w && box.w > other.y;
    });
}

// How a pass is marked: chosen or pointed at it stands out, behind metal its marks are hollow.
struct MarkStyle {
    Colour arrow, disc, ring, number;
    bool hollow;
};

MarkStyle style_of(const Theme& theme, bool strong, bool behind) {
    if (behind)
        return {theme.caution, theme.sheet, theme.caution, theme.caution, true};
    if (strong)
        return {theme.caution, theme.caution, theme.bead, theme.sheet, false};
    return {theme.bead, theme.sheet, theme.bead, theme.ink, false};
}

void arrow_head(const Overlay& overlay, ImVec2 tip, ImVec2 direction, const MarkStyle& style) {
    const float size = overlay.ui.px(7);
    const ImVec2 side{-direction.y, direction.x};
    const ImVec2 back{tip.x - direction.x * size, tip.y - direction.y * size};
    const ImVec2 point{tip.x + direction.x * size, tip.y + direction.y * size};
    const ImVec2 left{back.x + side.x * size, back.y + side.y * size};
    const ImVec2 right{back.x - side.x * size, back.y - side.y * size};
    overlay.draw.AddTriangleFilled(point, left, right, style.hollow ? style.disc : style.arrow);
    if (style.hollow)
        overlay.draw.AddTriangle(point, left, right, style.arrow, overlay.ui.px(1.5f));
}

// The arrow on a bead: at its middle, pointing where the torch goes. Returns the direction on screen.
ImVec2 draw_direction(const Overlay& overlay, const scene::PassLines& passes, Index pass, bool reversed,
                      const MarkStyle& style) {
    const auto& line = passes.line[pass];
    const ImVec2 from = overlay.at(scene::along_line(line, reversed ? 0.6 : 0.4));
    const ImVec2 to = overlay.at(scene::along_line(line, reversed ? 0.4 : 0.6));
    ImVec2 direction{to.x - from.x, to.y - from.y};
    const float long_px = length(direction);
    if (long_px < 1e-3f)
        return {1, 0};
    direction = {direction.x / long_px, direction.y / long_px};
    const ImVec2 ends_a = overlay.at(line.front()), ends_b = overlay.at(line.back());
    const bool long_enough = length({ends_a.x - ends_b.x, ends_a.y - ends_b.y}) > overlay.ui.px(18);
    if (!passes.ring[pass] && long_enough)
        arrow_head(overlay, overlay.at(passes.middle[pass]), direction, style);
    return direction;
}

} // namespace

ImVec2 Overlay::at(const part::Point& point) const {
    const auto seen = projection.to_screen(point);
    return {origin.x + static_cast<float>(seen.x_px), origin.y + static_cast<float>(seen.y_px)};
}

namespace {

// Of a label's patch at `low`, moved inside the view.
ImVec4 patch(const Overlay& overlay, ImVec2 low, const std::string& text) {
    const ImVec2 size = patch_size(overlay.ui, text);
    const auto inside = [](float at, float length, float view_low, float view_length) {
        return std::clamp(at, view_low + 2, std::max(view_low + 2, view_low + view_length - length - 2));
    };
    low = {inside(low.x, size.x, overlay.origin.x, overlay.size.x),
           inside(low.y, size.y, overlay.origin.y, overlay.size.y)};
    return {low.x, low.y, low.x + size.x, low.y + size.y};
}

} // namespace

void label_beside(const Overlay& overlay, std::vector<SideLabel> labels, const std::vector<ImVec2>& metal,
                  Boxes taken) {
    const Ui& ui = overlay.ui;
    // Those whose lines have the least choice of where to end go first.
    std::ranges::stable_sort(labels, {}, [](const SideLabel& one) {
        const auto [left, right] = std::ranges::minmax(one.ends, {}, &ImVec2::x);
        return right.x - left.x;
    });
    const float gap = ui.px(14), edge = ui.px(4);
    const ImVec2 view_end{overlay.origin.x + overlay.size.x, overlay.origin.y + overlay.size.y};
    Boxes boxes;
    for (const SideLabel& one : labels) {
        const ImVec4 at_home = patch(overlay, {one.ends.front().x, one.ends.front().y + gap}, one.text);
        const float wide = at_home.z - at_home.x, high = at_home.w - at_home.y;
        ImVec4 best = at_home, best_line{};
        float least = 1e9f;
        for (Index k = 0; k < one.ends.size(); ++k)
            for (const float share : {0.5f, 0.1f, 0.9f}) { // of the label left of its line
                const ImVec2 from = one.ends[k];
                const float left = from.x - share * wide;
                // The metal above and below which the label would stand.
                float top = from.y, bottom = from.y;
                for (const ImVec2& point : metal)
                    if (point.x > left - edge && point.x < left + wide + edge) {
                        top = std::min(top, point.y);
                        bottom = std::max(bottom, point.y);
                    }
                for (const bool below : {true, false})
                    for (int row = 0; row < 6; ++row) {
                        const float away = gap + (high + ui.px(3)) * static_cast<float>(row);
                        const float low = below ? bottom + away : top - away - high;
                        const ImVec4 box{left - edge, low, left + wide + edge, low + high};
                        const ImVec4 line{from.x - edge, below ? from.y : low + high, from.x + edge,
                                          below ? low : from.y};
                        const float cost = line.w - line.y + ui.px(8) * static_cast<float>(k);
                        const bool in_view = box.x >= overlay.origin.x && box.z <= view_end.x &&
                                             box.y >= overlay.origin.y && box.w <= view_end.y;
                        if (cost >= least || !in_view || overlaps(taken, box) || overlaps(boxes, line))
                            continue;
                        least = cost;
                        best = {left, low, left + wide, low + high};
                        best_line = line;
                    }
            }
        // The next label keeps off this one and off the line to it.
        taken.push_back({best.x - edge, best.y, best.z + edge, best.w});
        taken.push_back(best_line);
        boxes.push_back(best);
        if (best_line.w > best_line.y) {
            const bool below = best.y >= best_line.w;
            const ImVec2 end{(best_line.x + best_line.z) / 2, below ? best_line.y : best_line.w};
            const ImVec2 foot{end.x, below ? best_line.w : best_line.y};
            overlay.draw.AddLine(end, foot, faded(ui.theme.sheet, 0.8), ui.px(3));
            overlay.draw.AddLine(end, foot, one.colour, ui.px(1.2f));
            overlay.draw.AddCircleFilled(end, ui.px(3), one.colour);
        }
    }
    for (Index k = 0; k < labels.size(); ++k)
        write_on_patch(ui, overlay.draw, boxes[k], labels[k].text, labels[k].colour);
}

Boxes draw_pass_numbers(const Overlay& overlay, const scene::PassLines& passes, const std::vector<bool>& hidden,
                        int hovered_pass, Boxes taken) {
    Ui& ui = overlay.ui;
    const weld::Plan& plan = overlay.wish.outcome ? overlay.wish.outcome->plan : overlay.session.plan();
    struct Numbered {
        Index move, pass;
        ImVec2 direction;
        bool strong;
        MarkStyle style;
    };
    std::vector<Numbered> numbered;
    // Two rounds: what is in sight takes its place first. Of what lies behind metal only the pass that is pointed at or
    // chosen has its number, hollow: seen through the metal, the rest would read as lying on it.
    for (const bool behind : {false, true})
        for (Index m = 0; m < plan.moves.size(); ++m) {
            const auto* weld = std::get_if<weld::WeldPass>(&plan.moves[m].what);
            if (!weld || hidden[Index(weld->pass)] != behind || !overlay.in_front(passes.middle[Index(weld->pass)]) ||
                (overlay.wish.laid_only && static_cast<int>(m) > overlay.moment.move))
                continue;
            const bool strong = weld->pass == hovered_pass || weld->pass == overlay.session.view().pass;
            if (behind && !strong)
                continue;
            const MarkStyle style = style_of(ui.theme, strong, behind);
            numbered.push_back({m, Index(weld->pass),
                                draw_direction(overlay, passes, Index(weld->pass), weld->reversed, style), strong,
                                style});
        }
    // Over all arrows, the numbers: beside the bead, on whichever side there is room; a number without room is shown
    // when pointed at. Whichever is pointed at or chosen is placed before its neighbours, which then make room.
    std::ranges::stable_partition(numbered, &Numbered::strong);
    ImGui::PushFont(ui.fonts.small);
    for (const auto& [move, pass, direction, strong, style] : numbered) {
        const std::string text = std::to_string(move + 1);
        const ImVec2 text_size = ImGui::CalcTextSize(text.c_str());
        const float radius = std::max(text_size.x, text_size.y) / 2 + ui.px(3);
        const ImVec2 middle = overlay.at(passes.middle[pass]);
        const float away = passes.ring[pass] ? 0.0f : radius + ui.px(8);
        for (const float side : {1.0f, -1.0f}) {
            const ImVec2 centre{middle.x - direction.y * away * side, middle.y + direction.x * away * side};
            const ImVec4 box{centre.x - radius, centre.y - radius, centre.x + radius, centre.y + radius};
            if (overlaps(taken, box) && !strong)
                continue;
            taken.push_back(box);
            overlay.draw.AddCircleFilled(centre, radius, style.disc, 24);
            overlay.draw.AddCircle(centre, radius, style.ring, 24, ui.px(1.5f));
            overlay.draw.AddText({centre.x - text_size.x / 2, centre.y - text_size.y / 2}, style.number, text.c_str());
            break;
        }
    }
    ImGui::PopFont();
    return taken;
}

void draw_torch(const Overlay& overlay, const part::Point& place, bool behind) {
    if (!overlay.in_front(place))
        return;
    const Ui& ui = overlay.ui;
    const ImVec2 at = overlay.at(place);
    const ImVec2 a{at.x + ui.px(7), at.y - ui.px(12)}, b{at.x + ui.px(14), at.y - ui.px(8)};
    const ImVec2 c{at.x + ui.px(26), at.y - ui.px(34)}, d{at.x + ui.px(17), at.y - ui.px(38)};
    if (behind) {
        for (const auto& [colour, width] : {std::pair{faded(ui.theme.sheet, 0.8), 3.0f}, {ui.theme.ink, 1.2f}}) {
            overlay.draw.AddCircle(at, ui.px(9), colour, 32, ui.px(width));
            overlay.draw.AddQuad(a, b, c, d, colour, ui.px(width));
        }
        return;
    }
    // A glow, the arc, and the torch above it: its nozzle comes from the ceiling side.
    for (const float radius : {16.0f, 11.0f, 7.0f})
        overlay.draw.AddCircleFilled(at, ui.px(radius), 0x28ffffff, 32);
    overlay.draw.AddCircleFilled(at, ui.px(4), 0xffffffff, 24);
    overlay.draw.AddCircle(at, ui.px(9), ui.theme.ink, 32, ui.px(1.5f));
    overlay.draw.AddQuadFilled(a, b, c, d, ui.theme.ink);
    overlay.draw.AddQuad(a, b, c, d, ui.theme.sheet, ui.px(1));
}

void draw_probe(const Overlay& overlay, const part::Point& place) {
    if (!overlay.in_front(place))
        return;
    const Ui& ui = overlay.ui;
    const ImVec2 at = overlay.at(place);
    overlay.draw.AddCircle(at, ui.px(7), ui.theme.sheet, 24, ui.px(4));
    overlay.draw.AddCircle(at, ui.px(7), ui.theme.ink, 24, ui.px(2));
    overlay.draw.AddCircleFilled(at, ui.px(2), ui.theme.ink);
}

void draw_hover_tip(const Overlay& overlay, const PartViewState& state) {
    const Ui& ui = overlay.ui;
    if (state.hovered_pass < 0 && !state.hovered_k)
        return;
    ImGui::BeginTooltip();
    if (state.hovered_pass >= 0) {
        const part::Pass& pass = overlay.session.part().passes[Index(state.hovered_pass)];
        ImGui::PushFont(ui.fonts.bold);
        ImGui::TextUnformatted(pass.name.c_str());
        ImGui::PopFont();
        const weld::Plan& plan = overlay.wish.outcome ? overlay.wish.outcome->plan : overlay.session.plan();
        const int move = move_of_pass(plan, state.hovered_pass);
        if (move >= 0)
            ImGui::TextUnformatted(ui.words({worded("move {0}"), {std::to_string(move + 1)}}).c_str());
        else if (const auto why = overlay.session.why_not(act::WeldNext{state.hovered_pass})) {
            ImGui::PushTextWrapPos(ui.px(300));
            ImGui::TextUnformatted(ui.words(*why).c_str());
            ImGui::PopTextWrapPos();
        } else
            ImGui::TextUnformatted(ui.tr("not in the plan yet"));
    }
    if (state.hovered_k)
        ImGui::TextUnformatted(units::temperature_text(*state.hovered_k, ui.units).c_str());
    ImGui::EndTooltip();
}

} // namespace holdtrue::app
