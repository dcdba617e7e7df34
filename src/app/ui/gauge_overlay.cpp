#include "app/ui/overlay.h"
#include "part/gauge.h"
#include "part/gauge_text.h"
#include "text/true_minus.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

float distance(ImVec2 a, ImVec2 b, ImVec2 to) {
    const ImVec2 along{b.x - a.x, b.y - a.y}, from{to.x - a.x, to.y - a.y};
    const float length2 = along.x * along.x + along.y * along.y;
    const float share = length2 > 0 ? std::clamp((from.x * along.x + from.y * along.y) / length2, 0.0f, 1.0f) : 0;
    return std::hypot(from.x - share * along.x, from.y - share * along.y);
}

// Which way a bow is counted as growing, or about which axis a twist turns.
void draw_sense(const Overlay& overlay, const part::Gauge& gauge, const std::vector<part::Point>& points,
                Colour colour) {
    if (gauge.kind != part::GaugeKind::bow && gauge.kind != part::GaugeKind::twist)
        return;
    Ui& ui = overlay.ui;
    const part::Point from = points[points.size() / 2];
    const double depth_m = overlay.projection.to_screen(from).depth_m;
    const part::Point to =
        from + gauge.direction.normalized() * (double(ui.px(60)) * overlay.projection.metres_per_pixel(depth_m));
    const ImVec2 a = overlay.at(from), b = overlay.at(to);
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    if (length < ui.px(8)) // it points at the eye
        return;
    const ImVec2 along{(b.x - a.x) / length, (b.y - a.y) / length};
    const float head = ui.px(9);
    overlay.draw.AddLine(a, b, colour, ui.px(3));
    overlay.draw.AddTriangleFilled({b.x + along.x * head, b.y + along.y * head},
                                   {b.x - along.y * head * 0.6f, b.y + along.x * head * 0.6f},
                                   {b.x + along.y * head * 0.6f, b.y - along.x * head * 0.6f}, colour);
}

// As of a drawing: what is hidden is dashed.
void add_dashes(const Overlay& overlay, ImVec2 a, ImVec2 b, Colour colour, float width) {
    const float length = std::hypot(b.x - a.x, b.y - a.y), dash = overlay.ui.px(7), gap = overlay.ui.px(5);
    constexpr float most = 300; // of a line that goes far out of the view
    const float step = std::max(dash + gap, length / most);
    const auto at = [&](float along) {
        const float share = length > 0 ? std::min(along / length, 1.0f) : 0;
        return ImVec2{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
    };
    for (float along = 0; along < length; along += step)
        overlay.draw.AddLine(at(along), at(along + step * dash / (dash + gap)), colour, width);
}

// Pieces that are alike are drawn as one.
void draw_stroke(const Overlay& overlay, const part::Point& from, const part::Point& to,
                 const std::vector<bool>& behind, Colour colour, bool stands_out) {
    const Ui& ui = overlay.ui;
    const Index count = behind.size();
    const auto at = [&](Index k) {
        return overlay.at(from + static_cast<double>(k) / static_cast<double>(count) * (to - from));
    };
    for (Index k = 0, next = 0; k < count; k = next) {
        while (next < count && behind[next] == behind[k])
            ++next;
        const ImVec2 a = at(k), b = at(next);
        if (behind[k]) {
            add_dashes(overlay, a, b, faded(ui.theme.sheet, 0.5), ui.px(stands_out ? 4 : 2.5f));
            add_dashes(overlay, a, b, colour, ui.px(stands_out ? 2.5f : 1.2f));
        } else {
            overlay.draw.AddLine(a, b, faded(ui.theme.sheet, 0.8), ui.px(stands_out ? 8 : 4.5f));
            overlay.draw.AddLine(a, b, colour, ui.px(stands_out ? 4 : 2));
        }
    }
}

void draw_point(const Overlay& overlay, ImVec2 at, bool behind, Colour colour) {
    const Ui& ui = overlay.ui;
    if (behind) {
        overlay.draw.AddCircle(at, ui.px(4), faded(ui.theme.sheet, 0.5), 20, ui.px(3));
        overlay.draw.AddCircle(at, ui.px(4), colour, 20, ui.px(1.2f));
        return;
    }
    overlay.draw.AddCircleFilled(at, ui.px(5), ui.theme.sheet);
    overlay.draw.AddCircle(at, ui.px(5), colour, 20, ui.px(2));
}

} // namespace

int draw_gauges(const Overlay& overlay, const std::vector<std::vector<part::Point>>& all_points,
                const std::vector<scene::GaugeBehind>& behind, const std::vector<part::Point>& place, int strong,
                ImVec2 pointer, const Boxes& taken) {
    int pointed = -1;
    float nearest = overlay.ui.px(8); // the reach of the pointer
    Ui& ui = overlay.ui;
    const part::Part& part = overlay.session.part();
    const int chosen = overlay.session.view().gauge;
    ImGui::PushFont(ui.fonts.small);
    std::vector<SideLabel> names; // written when all lines are drawn, so that none goes through a text
    for (Index g = 0; g < part.gauges.size(); ++g) {
        if (chosen >= 0 && static_cast<int>(g) != chosen)
            continue;
        const part::Gauge& gauge = part.gauges[g];
        const std::vector<part::Point>& points = all_points[g];
        const bool in_front =
            std::ranges::all_of(points, [&](const part::Point& point) { return overlay.in_front(point); });
        if (!in_front || points.empty())
            continue;
        Colour colour = ui.theme.accent;
        std::string text = ui.tr(gauge.title.empty() ? gauge.name : gauge.title);
        if (overlay.wish.outcome) {
            const double off = scene::gauge_value(*overlay.wish.outcome, static_cast<int>(g), overlay.moment) -
                               overlay.wish.outcome->gauges[g].nominal;
            colour = std::abs(off) <= gauge.tolerance ? ui.theme.good : ui.theme.bad;
            text += "  " + part::gauge_error_text(gauge, off, ui.units) + " (±" +
                    part::gauge_text(gauge, gauge.tolerance, ui.units) + ")";
        } else
            text += "  " + part::gauge_text(gauge, part::nominal(gauge), ui.units) + " ±" +
                    part::gauge_text(gauge, gauge.tolerance, ui.units);
        const bool stands_out = static_cast<int>(g) == strong;
        if (stands_out && !overlay.wish.outcome)
            draw_sense(overlay, gauge, points, ui.theme.caution);
        const auto strokes = scene::strokes(gauge);
        for (Index k = 0; k < strokes.size(); ++k) {
            const auto& [from, to] = strokes[k];
            draw_stroke(overlay, points[from], points[to], behind[g].stroke[k], stands_out ? ui.theme.caution : colour,
                        stands_out);
            const ImVec2 a = overlay.at(points[from]), b = overlay.at(points[to]);
            if (const float away = distance(a, b, pointer); away < nearest) {
                nearest = away;
                pointed = static_cast<int>(g);
            }
        }
        SideLabel name{{}, text::true_minus(text), colour};
        for (const auto& [from, to] : strokes) // along the lines, from their middles outwards
            for (const float share : {0.5f, 0.25f, 0.75f, 0.1f, 0.9f}) {
                const ImVec2 a = overlay.at(points[from]), b = overlay.at(points[to]);
                name.ends.push_back({a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)});
            }
        for (Index k = 0; k < points.size(); ++k) {
            name.ends.push_back(overlay.at(points[k]));
            draw_point(overlay, name.ends.back(), behind[g].point[k], colour);
        }
        names.push_back(std::move(name));
    }
    std::vector<ImVec2> metal;
    metal.reserve(place.size());
    for (const part::Point& node : place)
        metal.push_back(overlay.at(node));
    label_beside(overlay, std::move(names), metal, taken);
    ImGui::PopFont();
    return pointed;
}

} // namespace holdtrue::app
