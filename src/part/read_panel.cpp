#include "part/grid_lines.h"
#include "part/part_tables.h"
#include "part/surface.h"
#include "text/names.h"
#include "units/quantity_text.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::part {
namespace {

using text::Table;
using text::worded;
using units::mm;

constexpr text::Range section_range{2 * mm, 5};

// A straight axis and two directions square to it and to each other.
struct Frame {
    Point from{0, 0, 0}, to{1, 0, 0};
    Point first{0, 1, 0}, second{0, 0, 1}; // first x second runs along the axis

    Point at(bool end, double along_first, double along_second) const {
        return (end ? to : from) + along_first * first + along_second * second;
    }
};

// from_mm, to_mm and the direction under `key`, which becomes `second` after what of it runs along the axis is taken
// off.
Frame read_frame(Table& table, std::string_view key) {
    Frame frame;
    frame.from = table.point("from");
    frame.to = table.point("to");
    const Point wanted = table.direction(key);
    const Point axis = frame.to - frame.from;
    if (axis.norm() < 1 * mm) {
        table.problem("to", worded("from_mm and to_mm are the same place"), worded("give the two ends of the panel"));
        return {};
    }
    const Point square = wanted - wanted.dot(axis) / axis.squaredNorm() * axis;
    if (square.norm() < 0.5) {
        table.problem(key, {worded("{0} runs along the panel"), {std::string(key)}},
                      worded("give a direction square to the line from from_mm to to_mm"));
        return {};
    }
    frame.second = square.normalized();
    frame.first = frame.second.cross(axis.normalized());
    return frame;
}

// A dimension at the start of the panel and at its end, the same unless end_KEY is given.
struct Tapered {
    double start_m, end_m;
    double at(bool end) const { return end ? end_m : start_m; }
};
Tapered read_tapered(Table& table, const std::string& key, double least_m) {
    const text::Range range{std::max(least_m, section_range.low), section_range.high};
    const double start = table.quantity(key, units::length, range);
    return {start, table.quantity("end_" + key, units::length, range, start)};
}

void set_profile(Panel& panel, bool end, std::vector<Point> profile) {
    (end ? panel.profile_b : panel.profile_a) = std::move(profile);
}

void read_plate(Table& table, Panel& panel) {
    const std::vector<Point> corners = table.points("corners", 4);
    if (corners.size() != 4)
        table.problem("corners", {worded("corners_mm has {0} points"), {std::to_string(corners.size())}},
                      worded("a plate has four, in order round it; for more use profile_a_mm and profile_b_mm"));
    panel.profile_a = {corners[0], corners[1]};
    panel.profile_b = {corners[3], corners[2]};
}

// Dimensions are outside dimensions; profiles run along the middle of the sheet, half a thickness in.
void read_channel(Table& table, Panel& panel) {
    const double half = panel.thickness_m / 2;
    const Frame frame = read_frame(table, "open");
    const Tapered height = read_tapered(table, "height", 4 * half);
    const Tapered flange = read_tapered(table, "flange", 2 * half);
    for (const bool end : {false, true}) {
        const double h = height.at(end) / 2 - half;
        set_profile(panel, end,
                    {frame.at(end, h, flange.at(end)), frame.at(end, h, half), frame.at(end, -h, half),
                     frame.at(end, -h, flange.at(end))});
    }
}

void read_angle(Table& table, Panel& panel) {
    const double half = panel.thickness_m / 2;
    const Frame frame = read_frame(table, "leg_b");
    Point first = table.direction("leg_a");
    if (std::abs(first.dot(frame.first)) < 0.99)
        table.problem("leg_a", worded("leg_a is not square to leg_b and to the panel's length"),
                      worded("the legs of an angle stand square; for others use profile_a_mm and profile_b_mm"));
    const double sense = first.dot(frame.first) < 0 ? -1 : 1;
    const Tapered a = read_tapered(table, "width_a", 2 * half);
    const Tapered b = read_tapered(table, "width_b", 2 * half);
    for (const bool end : {false, true})
        set_profile(panel, end,
                    {frame.at(end, sense * a.at(end), half), frame.at(end, sense * half, half),
                     frame.at(end, sense * half, b.at(end))});
}

// A box, or a tube that is square.
void read_hollow(Table& table, Panel& panel, const std::string& height_key, const std::string& width_key) {
    const double half = panel.thickness_m / 2;
    const Frame frame = read_frame(table, "up");
    const Tapered height = read_tapered(table, height_key, 4 * half);
    const Tapered width = read_tapered(table, width_key, 4 * half);
    panel.closed = true;
    for (const bool end : {false, true}) {
        const double w = width.at(end) / 2 - half, h = height.at(end) / 2 - half;
        set_profile(panel, end,
                    {frame.at(end, -w, -h), frame.at(end, w, -h), frame.at(end, w, h), frame.at(end, -w, h)});
    }
}

// A polygon of a multiple of four sides, about as long as the mesh's cells.
void read_round_tube(Table& table, Panel& panel, double element_m) {
    Frame frame;
    frame.from = table.point("from");
    frame.to = table.point("to");
    const double least_m = 2.5 * panel.thickness_m;
    const Tapered diameter = read_tapered(table, "diameter", least_m);
    const Point axis = frame.to - frame.from;
    if (axis.norm() < 1 * mm) {
        table.problem("to", worded("from_mm and to_mm are the same place"), worded("give the two ends of the tube"));
        return;
    }
    // From the coordinate axis that is squarest to the tube, so that the seams of the polygon lie where expected.
    Eigen::Index squarest = 0;
    axis.cwiseAbs().minCoeff(&squarest);
    const Point unit = axis.normalized();
    frame.first = (Point::Unit(squarest) - unit[squarest] * unit).normalized();
    frame.second = unit.cross(frame.first);
    panel.closed = true;
    const double round = std::numbers::pi * (std::max(diameter.start_m, diameter.end_m) - panel.thickness_m);
    const int sides = 4 * std::clamp(static_cast<int>(std::lround(round / element_m / 4)), 3, 24);
    for (int k = 0; k < sides; ++k) {
        const double angle = 2 * std::numbers::pi * k / sides;
        for (const bool end : {false, true}) {
            const double radius = (diameter.at(end) - panel.thickness_m) / 2;
            (end ? panel.profile_b : panel.profile_a)
                .push_back(frame.at(end, radius * std::cos(angle), radius * std::sin(angle)));
        }
    }
}

void read_profiles(Table& table, Panel& panel) {
    const bool hollow = panel.kind == PanelKind::box || panel.kind == PanelKind::tube;
    panel.closed = table.flag("closed", hollow);
    const std::size_t least = panel.closed ? 3 : 2;
    panel.profile_a = table.points("profile_a", least);
    panel.profile_b = table.points("profile_b", least);
    if (panel.profile_a.size() != panel.profile_b.size())
        table.problem("profile_b",
                      {worded("profile_a_mm has {0} points and profile_b_mm {1}"),
                       {std::to_string(panel.profile_a.size()), std::to_string(panel.profile_b.size())}},
                      worded("give both the same number; point k of one is joined to point k of the other"));
    const std::size_t common = std::min(panel.profile_a.size(), panel.profile_b.size());
    panel.profile_a.resize(common);
    panel.profile_b.resize(common);
    if (panel.closed && common > least && (panel.profile_a.front() - panel.profile_a.back()).norm() < 0.01 * mm)
        table.problem("profile_a", worded("the last point of a closed profile repeats its first"),
                      worded("leave it out; a closed profile goes back to its first point by itself"));
}

std::vector<CutOut> read_cut_outs(Table& table) {
    std::vector<CutOut> cut_outs;
    for (Table hole : table.tables("cut_out")) {
        CutOut cut_out;
        cut_out.centre = hole.point("at");
        cut_out.radius_m = hole.quantity("diameter", units::length, {3 * mm, 2}) / 2;
        cut_out.line = hole.line();
        cut_outs.push_back(cut_out);
    }
    return cut_outs;
}

void check_area(Table& table, const Panel& panel) {
    for (int segment = 0; segment < segment_count(panel); ++segment) {
        const Quad quad = segment_quad(panel, segment);
        double shortest = std::numeric_limits<double>::infinity();
        for (std::size_t k = 0; k < 4; ++k)
            shortest = std::min(shortest, (quad[(k + 1) % 4] - quad[k]).norm());
        if (shortest < 1 * mm) {
            table.problem("", {worded("panel {0} has an edge shorter than 1 mm between its points"), {panel.name}},
                          worded("each side of each face needs some length; leave out a repeated point"));
            return;
        }
        // At each corner the sheet must face the same way as at its middle.
        const Point facing = surface_normal(panel, {segment, 0.5, 0.5, {}, 0});
        for (const double s : {0.0, 1.0})
            for (const double t : {0.0, 1.0})
                if (facing.norm() == 0 || surface_normal(panel, {segment, s, t, {}, 0}).dot(facing) < 0.1) {
                    table.problem(
                        "", {worded("panel {0} has a face with no area or with crossed edges"), {panel.name}},
                        worded("give the corners in order round the face, and both profiles in the same order"));
                    return;
                }
    }
}

// A hole needs metal about it within one flat face: 1.25 of its radius from its centre to each edge and fold.
void check_cut_out(Table& table, const Panel& panel, const CutOut& cut_out) {
    const SurfacePlace place = nearest_place(panel, cut_out.centre);
    const auto told = [&](const text::Told& what, const text::Told& fix) {
        for (Table hole : table.tables("cut_out"))
            if (hole.line() == cut_out.line)
                hole.problem("at", what, fix);
    };
    if (place.distance_m > panel.thickness_m + 1 * mm) {
        told({worded("the cut-out is {0} away from panel {1}"), {units::length_text(place.distance_m), panel.name}},
             worded("put at_mm on the panel's sheet"));
        return;
    }
    const Quad quad = segment_quad(panel, place.segment);
    double clear_m = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < 4; ++k) {
        const Point edge = (quad[(k + 1) % 4] - quad[k]).normalized();
        clear_m = std::min(clear_m, edge.cross(place.position - quad[k]).norm());
    }
    if (clear_m < 1.25 * cut_out.radius_m)
        told({worded("the cut-out comes too close to an edge or fold of panel {0}: its centre is {1} away"),
              {panel.name, units::length_text(clear_m)}},
             {worded("leave at least {0}, or make the hole smaller"), {units::length_text(1.25 * cut_out.radius_m)}});
    for (const CutOut& other : panel.cut_outs)
        if (&other != &cut_out && other.line <= cut_out.line &&
            (other.centre - cut_out.centre).norm() < 1.25 * (other.radius_m + cut_out.radius_m))
            told({worded("the cut-out meets the one of line {0}"), {std::to_string(other.line)}},
                 worded("leave a quarter of their radii between them"));
}

// So that no file can ask for more cells than a machine holds, in one panel or in many: told of the one that is too
// much.
void check_cell_count(Table& table, const Part& part, const Panel& panel) {
    const auto cells_of = [&](const Panel& of) { return expected_cells(of, of.element_m.value_or(part.element_m)); };
    double before = 0;
    for (const Panel* other = part.panels.data(); other != &panel; ++other)
        before += cells_of(*other);
    const double cells = before + cells_of(panel);
    constexpr double most = 40000;
    if (before <= most && !(cells <= most))
        table.problem(
            "element",
            {worded("with panel {0} the part would be cut into {1} cells"), {panel.name, units::number_text(cells, 0)}},
            {worded("raise element_mm: {0} cells are the most"), {units::number_text(most, 0)}});
}

} // namespace

Panel read_panel(Table& table, const Part& part, std::span<const SheetChange> changes) {
    Panel panel;
    panel.line = table.line();
    panel.name = text::read_name(table, worded("panel"), names_of(part.panels));
    const auto kind = table.kind<PanelKind>("kind", {{"plate", PanelKind::plate},
                                                     {"channel", PanelKind::channel},
                                                     {"angle", PanelKind::angle},
                                                     {"box", PanelKind::box},
                                                     {"tube", PanelKind::tube}});
    if (!kind)
        return panel;
    panel.kind = *kind;
    panel.thickness_m = table.quantity("thickness", units::length, {0.5 * mm, 40 * mm});
    for (const SheetChange& change : changes)
        if (change.panel == panel.name)
            panel.thickness_m = change.thickness_m;
    panel.yield_pa = table.quantity("yield", units::stress, {100e6, 1200e6}, panel.yield_pa);
    panel.coated = table.flag("coated", false);
    panel.element_m = table.optional_quantity("element", units::length, {1 * mm, 200 * mm});
    panel.cut_outs = read_cut_outs(table);
    if (table.has_quantity("profile_a", units::length) || table.has_quantity("profile_b", units::length)) {
        read_profiles(table, panel);
        return panel;
    }
    switch (panel.kind) {
    case PanelKind::plate:
        read_plate(table, panel);
        break;
    case PanelKind::channel:
        read_channel(table, panel);
        break;
    case PanelKind::angle:
        read_angle(table, panel);
        break;
    case PanelKind::box:
        read_hollow(table, panel, "height", "width");
        break;
    case PanelKind::tube:
        if (table.has_quantity("side", units::length))
            read_hollow(table, panel, "side", "side");
        else
            read_round_tube(table, panel, panel.element_m.value_or(part.element_m));
        break;
    }
    return panel;
}

void check_panel(Table& table, const Part& part, const Panel& panel) {
    check_area(table, panel);
    check_cell_count(table, part, panel);
    for (const CutOut& cut_out : panel.cut_outs)
        check_cut_out(table, panel, cut_out);
}

void check_on_panel(Table& table, std::string_view key, const Panel& panel, const Point& point) {
    const double away_m = nearest_place(panel, point).distance_m;
    const double allowed_m = panel.thickness_m + 2 * mm;
    if (away_m > allowed_m)
        table.problem(key, {worded("the point is {0} away from panel {1}"), {units::length_text(away_m), panel.name}},
                      {worded("put it on the panel's sheet, {0} off at most"), {units::length_text(allowed_m)}});
    for (const CutOut& cut_out : panel.cut_outs)
        if ((point - cut_out.centre).norm() < 0.95 * cut_out.radius_m)
            table.problem(key, {worded("the point lies in a cut-out of panel {0}"), {panel.name}},
                          worded("put it where there is metal"));
}

} // namespace holdtrue::part
