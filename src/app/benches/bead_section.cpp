#include "app/benches/bead_section.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using part::JointType;

// Draws in millimetres about an origin; y up.
struct Pen {
    ImDrawList& draw;
    ImVec2 origin;
    float px_per_m;

    ImVec2 at(double x_m, double y_m) const {
        return {origin.x + static_cast<float>(x_m) * px_per_m, origin.y - static_cast<float>(y_m) * px_per_m};
    }
    void sheet(double x0, double y0, double x1, double y1, Colour fill, Colour edge, float thick) const {
        draw.AddRectFilled(at(x0, y1), at(x1, y0), fill);
        draw.AddRect(at(x0, y1), at(x1, y0), edge, 0, 0, thick);
    }
    void triangle(double ax, double ay, double bx, double by, double cx, double cy, Colour fill) const {
        draw.AddTriangleFilled(at(ax, ay), at(bx, by), at(cx, cy), fill);
    }
};

struct Extent {
    double x0, y0, x1, y1;
};

Extent extent_of(const CardCheck& check) {
    const double ta = check.section.thickness_a_m, tb = check.section.thickness_b_m;
    const double bead = std::max({check.figures.arc.leg_m, check.section.size_m, 0.003});
    const double arm = std::max(4 * std::max(ta, tb), 2.2 * bead);
    switch (check.section.type) {
    case JointType::fillet:
        return {-arm * 0.8, -tb, arm, arm * 0.8};
    case JointType::lap:
        return {-arm, -tb, arm, ta + bead * 0.3};
    case JointType::plug:
        return {-arm, -tb, arm, ta + 0.001};
    case JointType::corner:
        return {-arm * 0.7, -arm * 0.8, tb + bead, ta + bead};
    case JointType::edge:
        return {-ta - arm * 0.7, -arm, tb + arm * 0.7, bead};
    case JointType::butt:
        return {-arm, -std::max(ta, tb), arm, 0.4 * bead + 0.002};
    }
    return {-arm, -arm, arm, arm};
}

const char* rule_words(units::System system) { return system == units::System::metric ? "5 mm" : "1/4 in"; }

// Room above the section for its caption, and below it for keys and rule: in one line, or two.
constexpr float head_px = 34, one_line_px = 34, two_lines_px = 54;

double scale_beside(const Ui& ui, ImVec2 size, double wide_m, double high_m, float foot) {
    return std::min(double(size.x - ui.px(40)) / wide_m, double(size.y - ui.px(head_px) - foot) / high_m);
}

float foot_height(const Ui& ui, ImVec2 size, double wide_m, double high_m, double rule_m) {
    ImGui::PushFont(ui.fonts.small);
    const float keys =
        ui.px(68) + ImGui::CalcTextSize(ui.tr("metal laid")).x + ImGui::CalcTextSize(ui.tr("melted sheet")).x;
    const double scale = scale_beside(ui, size, wide_m, high_m, ui.px(one_line_px));
    const float rule = ui.px(32) + ImGui::CalcTextSize(rule_words(ui.units)).x + static_cast<float>(rule_m * scale);
    ImGui::PopFont();
    return ui.px(keys + rule <= size.x ? one_line_px : two_lines_px);
}

} // namespace

void draw_bead_section(Ui& ui, const CardCheck& check, ImVec2 size) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (size.x <= 0)
        size.x = ImGui::GetContentRegionAvail().x;
    ImGui::Dummy(size);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.PushClipRect(at, {at.x + size.x, at.y + size.y}, true);
    draw.AddRectFilled(at, {at.x + size.x, at.y + size.y}, ui.theme.raised, ui.px(6));

    const Extent extent = extent_of(check);
    const double wide = extent.x1 - extent.x0, high = extent.y1 - extent.y0;
    const double rule_m = ui.units == units::System::metric ? 0.005 : 0.25 * units::inch;
    const float foot = foot_height(ui, size, wide, high, rule_m);
    const double scale = scale_beside(ui, size, wide, high, foot);
    const Pen pen{
        draw,
        {at.x + size.x / 2 - static_cast<float>((extent.x0 + extent.x1) / 2 * scale),
         at.y + (size.y + ui.px(head_px) - foot) / 2 + static_cast<float>((extent.y0 + extent.y1) / 2 * scale)},
        static_cast<float>(scale)};
    const Theme& theme = ui.theme;
    const float thick = ui.px(1.2f);
    const double ta = check.section.thickness_a_m, tb = check.section.thickness_b_m;
    const double leg = check.figures.arc.leg_m, gap = check.section.root_gap_m;
    const double pa = check.figures.members.fusion_a.penetration_m, pb = check.figures.members.fusion_b.penetration_m;
    const double wanted = check.figures.wanted_leg_m;
    const Colour bead = theme.accent, melt = faded(theme.caution, 0.55);
    std::string size_words;
    switch (check.section.type) {
    case JointType::fillet:
        pen.sheet(extent.x0, -tb, extent.x1, 0, theme.sheet, theme.ink, thick);
        pen.sheet(-ta, gap, 0, extent.y1, theme.sheet, theme.ink, thick);
        pen.triangle(-pa, 0, leg, -pb, 0, leg, melt); // how deep the arc melts into each
        pen.triangle(0, -pb, leg, 0, -pa, leg, melt);
        pen.triangle(0, 0, leg, 0, 0, leg, bead);
        if (wanted > 0)
            draw.AddLine(pen.at(wanted, 0), pen.at(0, wanted), theme.ink, thick);
        break;
    case JointType::lap:
        pen.sheet(extent.x0, 0, 0, ta, theme.sheet, theme.ink, thick);
        pen.sheet(extent.x0 * 0.6, -tb, extent.x1, 0, theme.sheet, theme.ink, thick);
        pen.triangle(-pa, 0, leg, -pb, -pa, std::min(ta, leg), melt);
        pen.triangle(0, 0, leg, 0, 0, std::min(ta, leg), bead);
        if (wanted > 0)
            draw.AddLine(pen.at(wanted, 0), pen.at(0, std::min(ta, wanted)), theme.ink, thick);
        break;
    case JointType::plug: {
        const double hole = check.section.size_m / 2;
        pen.sheet(extent.x0, -tb, extent.x1, 0, theme.sheet, theme.ink, thick);
        pen.sheet(extent.x0, 0, -hole, ta, theme.sheet, theme.ink, thick);
        pen.sheet(hole, 0, extent.x1, ta, theme.sheet, theme.ink, thick);
        draw.AddRectFilled(pen.at(-hole, 0), pen.at(hole, -pb), melt);
        draw.AddRectFilled(pen.at(-hole, ta), pen.at(hole, 0), bead);
        size_words = ui.words({worded("hole {0}"), {units::length_text(check.section.size_m, ui.units)}});
        break;
    }
    case JointType::corner:
        pen.sheet(extent.x0, 0, 0, ta, theme.sheet, theme.ink, thick);
        pen.sheet(0, extent.y0, tb, 0, theme.sheet, theme.ink, thick);
        pen.triangle(-pa, ta, 0, -pb, tb + pb, -pb, melt);
        pen.triangle(0, ta, 0, 0, tb, 0, bead);
        break;
    case JointType::edge: { // face to face, the bead along both edges
        size_words = ui.words({worded("gap {0}"), {units::length_text(gap, ui.units)}});
        const double inner = gap / 2;
        pen.sheet(-inner - ta, extent.y0, -inner, 0, theme.sheet, theme.ink, thick);
        pen.sheet(inner, extent.y0, inner + tb, 0, theme.sheet, theme.ink, thick);
        const double area = std::max(check.figures.arc.deposit_area_m2, 1e-8);
        const double left = -std::min(inner + ta, std::sqrt(2 * area)),
                     right = std::min(inner + tb, std::sqrt(2 * area));
        pen.triangle(left, 0, 0, -std::max(pa, pb), right, 0, melt);
        // A parabola over the width holds two thirds of width times height; the curve's handle is twice as high.
        draw.PathLineTo(pen.at(left, 0));
        draw.PathBezierQuadraticCurveTo(pen.at((left + right) / 2, 3 * area / (right - left)), pen.at(right, 0));
        draw.PathFillConvex(bead);
        break;
    }
    case JointType::butt: {
        size_words = ui.words({worded("gap {0}"), {units::length_text(gap, ui.units)}});
        const double half = std::max(gap / 2, 0.0002);
        pen.sheet(extent.x0, -ta, -half, 0, theme.sheet, theme.ink, thick);
        pen.sheet(half, -tb, extent.x1, 0, theme.sheet, theme.ink, thick);
        const double depth = std::min(std::max(pa, pb), std::max(ta, tb));
        const double width = std::sqrt(std::max(check.figures.arc.deposit_area_m2, 1e-8) * 2);
        const double through = check.molten_through_m() / 2;
        if (through > 0)
            draw.AddQuadFilled(pen.at(-std::max(width, through), 0), pen.at(std::max(width, through), 0),
                               pen.at(through, -std::min(ta, tb)), pen.at(-through, -std::min(ta, tb)), melt);
        else
            pen.triangle(-width, 0, 0, -depth, width, 0, melt);
        const double filled = through > 0 ? std::min(ta, tb) : std::min(depth, std::min(ta, tb));
        draw.AddRectFilled(pen.at(-half, 0), pen.at(half, -filled), bead); // the gap
        draw.PathLineTo(pen.at(-width, 0));
        draw.PathBezierQuadraticCurveTo(pen.at(0, width * 0.5), pen.at(width, 0));
        draw.PathFillConvex(bead);
        break;
    }
    }
    if (leg > 0 && size_words.empty())
        size_words = ui.words(
            {worded("leg {0}; wanted {1}"), {units::length_text(leg, ui.units), units::length_text(wanted, ui.units)}});
    ImGui::PushFont(ui.fonts.small);
    draw.AddText({at.x + ui.px(10), at.y + ui.px(8)}, theme.ink,
                 ui.words({worded("sheets {0} and {1}; {2}"),
                           {units::length_text(ta, ui.units), units::length_text(tb, ui.units), size_words}})
                     .c_str());
    // The keys, and a rule to measure by.
    const float y = at.y + size.y - ui.px(22);
    draw.AddRectFilled({at.x + ui.px(10), y + ui.px(2)}, {at.x + ui.px(22), y + ui.px(14)}, bead);
    draw.AddText({at.x + ui.px(27), y}, theme.ink, ui.tr("metal laid"));
    const float second = at.x + ui.px(27) + ImGui::CalcTextSize(ui.tr("metal laid")).x + ui.px(14);
    draw.AddRectFilled({second, y + ui.px(2)}, {second + ui.px(12), y + ui.px(14)}, melt);
    draw.AddText({second + ui.px(17), y}, theme.ink, ui.tr("melted sheet"));
    const float rule = static_cast<float>(rule_m * scale), right = at.x + size.x - ui.px(12);
    const float rule_y = at.y + size.y - foot + ui.px(12);
    draw.AddLine({right - rule, rule_y + ui.px(8)}, {right, rule_y + ui.px(8)}, theme.ink, ui.px(2));
    const char* words = rule_words(ui.units);
    draw.AddText({right - rule - ui.px(6) - ImGui::CalcTextSize(words).x, rule_y}, theme.ink, words);
    ImGui::PopFont();
    draw.PopClipRect();
}

} // namespace holdtrue::app
