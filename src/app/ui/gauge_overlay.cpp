#include "app/ui/overlay.h"

#include "part/gauge.h"
#include "part/gauge_text.h"

#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

// Pairs of a gauge's points to be joined by a line.
std::vector<std::pair<Index, Index>> strokes(const part::Gauge& gauge) {
    std::vector<std::pair<Index, Index>> pairs;
    const Index count = gauge.point.size();
    switch (gauge.kind) {
    case part::GaugeKind::squareness:
        if (count >= 4)
            pairs = {{0, 2}, {1, 3}};
        break;
    case part::GaugeKind::twist:
        if (count >= 4)
            pairs = {{0, 1}, {2, 3}};
        break;
    case part::GaugeKind::angle:
        if (count >= 3)
            pairs = {{0, 1}, {0, 2}};
        break;
    case part::GaugeKind::flatness: break;
    default:
        for (Index k = 0; k + 1 < count; ++k)
            pairs.emplace_back(k, k + 1);
    }
    return pairs;
}

} // namespace

void draw_gauges(const Overlay& overlay, const scene::Anchors& anchors, const part::Mesh& mesh,
                 const std::vector<part::Point>& place) {
    Ui& ui = overlay.ui;
    const part::Part& part = overlay.session.part();
    const int chosen = overlay.session.view().gauge;
    ImGui::PushFont(ui.fonts.small);
    std::vector<ImVec4> taken;
    for (Index g = 0; g < part.gauges.size(); ++g) {
        if (chosen >= 0 && static_cast<int>(g) != chosen)
            continue;
        const part::Gauge& gauge = part.gauges[g];
        std::vector<part::Point> points;
        bool in_front = true;
        for (const scene::Anchor& anchor : anchors[g]) {
            points.push_back(scene::ride(anchor, mesh, place));
            in_front = in_front && overlay.in_front(points.back());
        }
        if (!in_front || points.empty())
            continue;
        Colour colour = ui.theme.accent;
        std::string text = gauge.title.empty() ? gauge.name : gauge.title;
        if (overlay.wish.outcome) {
            const double off = scene::gauge_value(*overlay.wish.outcome, static_cast<int>(g), overlay.moment) -
                               overlay.wish.outcome->gauges[g].nominal;
            colour = std::abs(off) <= gauge.tolerance ? ui.theme.good : ui.theme.bad;
            text += "  " + part::gauge_change_text(gauge, off, ui.units) + " (±" +
                    part::gauge_text(gauge, gauge.tolerance, ui.units) + ")";
        } else
            text += "  " + part::gauge_text(gauge, part::nominal(gauge), ui.units) + " ±" +
                    part::gauge_text(gauge, gauge.tolerance, ui.units);
        for (const auto& [a, b] : strokes(gauge)) {
            overlay.draw.AddLine(overlay.at(points[a]), overlay.at(points[b]), faded(ui.theme.sheet, 0.8), ui.px(4.5f));
            overlay.draw.AddLine(overlay.at(points[a]), overlay.at(points[b]), colour, ui.px(2));
        }
        ImVec2 middle{0, 0};
        for (const part::Point& point : points) {
            const ImVec2 at = overlay.at(point);
            overlay.draw.AddCircleFilled(at, ui.px(5), ui.theme.sheet);
            overlay.draw.AddCircle(at, ui.px(5), colour, 20, ui.px(2));
            middle.x += at.x / static_cast<float>(points.size());
            middle.y += at.y / static_cast<float>(points.size());
        }
        label(overlay, {middle.x, middle.y + ui.px(10)}, text, colour, {0.5f, 0}, &taken);
    }
    ImGui::PopFont();
}

} // namespace holdtrue::app
