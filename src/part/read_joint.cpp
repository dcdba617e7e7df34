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

// circle = { centre_mm = [...], diameter_mm = ..., axis = [...], start = [...] }: a ring, welded right-handed about
// the axis from the side where `start` points.
std::vector<Point> read_circle(Table& circle) {
    const Point centre = circle.point("centre");
    const double radius_m = circle.quantity("diameter", units::length, {5 * mm, 5}) / 2;
    const Point axis = circle.direction("axis");
    const Point wanted = circle.direction("start", Point(axis.unitOrthogonal()));
    const Point square = wanted - wanted.dot(axis) * axis;
    if (square.norm() < 0.1) {
        circle.problem("start", worded("start runs along the axis"), worded("give a direction square to the axis"));
        return {centre, centre, centre};
    }
    // With 64 sides the path lies within 0.13 % of the radius.
    constexpr int sides = 64;
    const Point first = square.normalized(), second = axis.cross(first);
    std::vector<Point> path;
    for (int k = 0; k < sides; ++k) {
        const double angle = 2 * std::numbers::pi * k / sides;
        path.push_back(centre + radius_m * (std::cos(angle) * first + std::sin(angle) * second));
    }
    return path;
}

void read_path(Table& table, Joint& joint) {
    if (std::optional<Table> circle = table.table("circle")) {
        joint.path = read_circle(*circle);
        joint.closed_path = true;
        return;
    }
    joint.closed_path = joint.type != JointType::plug && table.flag("closed", false);
    const std::size_t least = joint.type == JointType::plug ? 1 : joint.closed_path ? 3 : 2;
    joint.path = table.points("path", least);
    for (std::size_t k = 0; k + 1 < joint.path.size(); ++k)
        if ((joint.path[k + 1] - joint.path[k]).norm() < 1 * mm) {
            table.problem("path",
                          {worded("points {0} and {1} of path_mm are the same place"),
                           {std::to_string(k + 1), std::to_string(k + 2)}},
                          worded("leave one of them out"));
            return;
        }
    if (joint.closed_path && (joint.path.front() - joint.path.back()).norm() < 1 * mm)
        table.problem("path", worded("the last point of a closed path repeats its first"),
                      worded("leave it out; a closed path goes back to its first point by itself"));
}

double read_size(Table& table, JointType type) {
    switch (type) {
    case JointType::butt:
        return table.quantity("depth", units::length, {0.5 * mm, 40 * mm});
    case JointType::fillet:
    case JointType::lap:
        return table.quantity("leg", units::length, {1 * mm, 30 * mm});
    case JointType::corner:
    case JointType::edge:
        return table.quantity("throat", units::length, {0.5 * mm, 30 * mm});
    case JointType::plug:
        return table.quantity("hole", units::length, {4 * mm, 60 * mm});
    }
    return 0;
}

struct Stretch {
    double from_m, to_m;
};

constexpr double shortest_pass_m = 4 * mm;

// How the path is cut: passes = COUNT (with stitch_mm: that much of each), pass_mm = LENGTH or breaks_mm = [...].
std::vector<Stretch> read_stretches(Table& table, double length_m) {
    const bool by_length = table.has_quantity("pass", units::length);
    const bool by_breaks = table.has_quantity("breaks", units::length);
    if (by_length + by_breaks + table.has("passes") > 1) {
        table.problem(by_breaks ? "breaks" : "pass", worded("the passes of the joint are given in two ways"),
                      worded("keep one of passes, pass_mm and breaks_mm"));
        return {};
    }
    std::vector<double> ends{0};
    if (by_breaks) {
        for (const double place : table.quantities("breaks", units::length, {0, 100})) {
            if (place <= ends.back() || place >= length_m) {
                table.problem(
                    "breaks",
                    {worded("breaks_mm has {0}, which is not after the one before it and within the path of {1}"),
                     {units::length_text(place), units::length_text(length_m)}},
                    worded("give rising distances from the path's start; its start and end go without saying"));
                return {};
            }
            ends.push_back(place);
        }
        ends.push_back(length_m);
    } else {
        int count = 1;
        if (by_length)
            count = std::max(1, static_cast<int>(std::lround(
                                    length_m / table.quantity("pass", units::length, {shortest_pass_m, 10}))));
        else
            count = table.integer("passes", 1, 500, 1);
        for (int k = 1; k <= count; ++k)
            ends.push_back(length_m * k / count);
    }

    const std::optional<double> stitch_m = table.optional_quantity("stitch", units::length, {shortest_pass_m, 10});
    std::vector<Stretch> stretches;
    for (std::size_t k = 0; k + 1 < ends.size(); ++k) {
        Stretch stretch{ends[k], ends[k + 1]};
        const double whole_m = stretch.to_m - stretch.from_m;
        if (stitch_m && *stitch_m >= whole_m) {
            table.problem("stitch",
                          {worded("stitch_mm is as long as a whole pass of {0}"), {units::length_text(whole_m)}},
                          worded("make it shorter, or leave it out for a seam without gaps"));
            return {};
        }
        if (stitch_m)
            stretch = {stretch.from_m + (whole_m - *stitch_m) / 2, stretch.to_m - (whole_m - *stitch_m) / 2};
        stretches.push_back(stretch);
    }
    for (const Stretch& stretch : stretches)
        if (stretch.to_m - stretch.from_m < shortest_pass_m) {
            table.problem(by_breaks   ? "breaks"
                          : by_length ? "pass"
                                      : "passes",
                          {worded("a pass would be {0} long"), {units::length_text(stretch.to_m - stretch.from_m)}},
                          {worded("cut the path of {0} into passes of 4 mm or more"), {units::length_text(length_m)}});
            return {};
        }
    return stretches;
}

// Common practice, no source: the first and last tack keep off the ends, where they would run out.
constexpr double tack_end_gap_m = 12 * mm;

std::vector<Stretch> read_tacks(Table& table, const Joint& joint, double length_m, double thicker_m) {
    const bool by_spacing = table.has_quantity("tack_spacing", units::length);
    if (!by_spacing && !table.has("tacks")) {
        if (table.has_quantity("tack", units::length))
            table.problem("tack", worded("tack_mm is given, but no tacks"),
                          worded("add tacks = COUNT or tack_spacing_mm"));
        return {};
    }
    if (joint.tacked) {
        table.problem("tacks", worded("the joint comes tacked from the fixture and yet has tacks to weld"),
                      worded("keep either tacked = true or the tacks"));
        return {};
    }
    if (by_spacing && table.has("tacks")) {
        table.problem("tacks", worded("tacks are given both by count and by spacing"), worded("keep one of the two"));
        return {};
    }
    // Least length of a tack, EN 1090-2:2018 cl. 7.5.7 (from memory).
    const double tack_m = table.quantity("tack", units::length, {4 * mm, 0.2}, std::min(4 * thicker_m, 50 * mm));
    int count = 0;
    if (by_spacing)
        count = static_cast<int>(std::lround(length_m / table.quantity("tack_spacing", units::length, {10 * mm, 5}))) +
                (joint.closed_path ? 0 : 1);
    else
        count = table.integer("tacks", 1, 500);
    count = std::max(count, 1);
    if (count * tack_m > 0.9 * length_m) {
        table.problem("tacks",
                      {worded("{0} tacks of {1} leave no gaps on a path of {2}"),
                       {std::to_string(count), units::length_text(tack_m), units::length_text(length_m)}},
                      worded("give fewer or shorter tacks"));
        return {};
    }
    std::vector<Stretch> tacks;
    for (int k = 0; k < count; ++k) {
        double middle = 0;
        if (joint.closed_path)
            middle = length_m * (k + 0.5) / count;
        else if (count == 1)
            middle = length_m / 2;
        else {
            const double end = std::min(tack_end_gap_m, (length_m - count * tack_m) / (2 * count)) + tack_m / 2;
            middle = end + (length_m - 2 * end) * k / (count - 1);
        }
        tacks.push_back({middle - tack_m / 2, middle + tack_m / 2});
    }
    return tacks;
}

} // namespace

Joint read_joint(Table& table, const Part& part) {
    Joint joint;
    joint.line = table.line();
    joint.name = text::read_name(table, worded("joint"), names_of(part.joints));
    joint.card_group = joint.name;
    const auto type = table.kind<JointType>("type", {{"butt", JointType::butt},
                                                     {"fillet", JointType::fillet},
                                                     {"lap", JointType::lap},
                                                     {"corner", JointType::corner},
                                                     {"edge", JointType::edge},
                                                     {"plug", JointType::plug}});
    if (!type)
        return joint;
    joint.type = *type;
    const std::vector<std::string> pair = table.texts("panels");
    if (pair.size() == 2) {
        joint.panel_a = text::find_named(table, "panels", pair[0], worded("panel"), names_of(part.panels));
        joint.panel_b = text::find_named(table, "panels", pair[1], worded("panel"), names_of(part.panels));
        if (pair[0] == pair[1])
            table.problem("panels", {worded("the joint joins panel {0} to itself"), {pair[0]}},
                          worded("name two different panels"));
    } else if (table.has("panels"))
        table.problem("panels", {worded("panels has {0} names"), {std::to_string(pair.size())}},
                      worded("name the two panels the weld joins, the one it is laid on first"));
    read_path(table, joint);
    joint.size_m = read_size(table, joint.type);
    joint.root_gap_m = table.quantity("root_gap", units::length, {0, 10 * mm}, 0.0);
    joint.tacked = table.flag("tacked", false);
    if (table.has("reach"))
        for (const std::string& pose : table.one_or_more("reach")) {
            text::find_named(table, "reach", pose, worded("pose"), names_of(part.poses));
            joint.positions_reachable.push_back(pose);
        }
    joint.card_group = table.text("card_group", joint.name);
    return joint;
}

std::vector<Pass> read_passes(Table& table, const Part& part, const Joint& joint, int index) {
    std::vector<Pass> passes;
    if (joint.type == JointType::plug) {
        for (std::size_t k = 0; k < joint.path.size(); ++k) {
            const auto place = static_cast<double>(k);
            passes.push_back({joint.name + "/plug" + std::to_string(k + 1), index, PassKind::plug, place, place, 0});
        }
        return passes;
    }
    table.know({"passes", "pass_mm", "pass_in", "breaks_mm", "breaks_in", "stitch_mm", "stitch_in", "layers", "tacks",
                "tack_spacing_mm", "tack_spacing_in", "tack_mm", "tack_in"});
    const double length_m = path_length_m(joint);
    if (length_m < shortest_pass_m) // a path that could not be read has been told
        return passes;
    const auto thickness = [&](int panel) { return part.panels[static_cast<std::size_t>(panel)].thickness_m; };
    const double thicker_m = part.panels.empty() ? 0 : std::max(thickness(joint.panel_a), thickness(joint.panel_b));
    int number = 0;
    for (const Stretch& tack : read_tacks(table, joint, length_m, thicker_m))
        passes.push_back(
            {joint.name + "/tack" + std::to_string(++number), index, PassKind::tack, tack.from_m, tack.to_m, 0});

    const int layers = table.integer("layers", 1, 20, 1);
    const std::vector<Stretch> stretches = read_stretches(table, length_m);
    for (int layer = 0; layer < layers; ++layer) {
        const std::string prefix = layers > 1 ? "layer" + std::to_string(layer + 1) + "/" : "";
        number = 0;
        for (const Stretch& run : stretches)
            passes.push_back({joint.name + "/" + prefix + std::to_string(++number), index, PassKind::run, run.from_m,
                              run.to_m, layer});
    }
    return passes;
}

void check_joint(Table& table, const Part& part, const Joint& joint) {
    const Panel& a = part.panels[static_cast<std::size_t>(joint.panel_a)];
    const Panel& b = part.panels[static_cast<std::size_t>(joint.panel_b)];
    const std::string_view path_key = table.has("circle") ? "circle" : "path";
    const double mean_m = (a.thickness_m + b.thickness_m) / 2;
    const double thinner_m = std::min(a.thickness_m, b.thickness_m);

    // Corners of the path and places between them.
    std::vector<double> along;
    const double length_m = path_length_m(joint);
    constexpr int samples = 100;
    for (int k = 0; k <= samples && joint.type != JointType::plug; ++k)
        along.push_back(length_m * k / samples);
    for (std::size_t k = 0; k < joint.path.size() && joint.type == JointType::plug; ++k)
        along.push_back(static_cast<double>(k));

    // The root of a weld lies where two surfaces meet: half a thickness from one or both mid-surfaces.
    const double allowed_m = mean_m + joint.root_gap_m + 1 * mm;
    for (const Panel* panel : {&a, &b})
        for (const double place : along) {
            const double away_m = nearest_place(*panel, path_point(joint, place)).distance_m;
            if (away_m <= allowed_m)
                continue;
            const text::Sentence where =
                joint.type == JointType::plug
                    ? text::Sentence(worded("plug {0}"), {std::to_string(static_cast<int>(place) + 1)})
                    : text::Sentence(worded("the path at {0}"), {units::length_text(place)});
            table.problem(path_key,
                          {worded("{0} is {1} away from panel {2}"), {where, units::length_text(away_m), panel->name}},
                          {worded("draw it where the surfaces meet; {0} from the middle of each sheet at most"),
                           {units::length_text(allowed_m)}});
            return;
        }

    // Sheets that lie on one another: their middles are the mean thickness apart, and the gap.
    if (joint.type == JointType::lap || joint.type == JointType::plug)
        for (const double place : along) {
            const Point on_a = nearest_place(a, path_point(joint, place)).position;
            const double apart_m = nearest_place(b, on_a).distance_m;
            if (std::abs(apart_m - mean_m - joint.root_gap_m) > std::max(0.5 * mm, 0.35 * mean_m)) {
                table.problem(
                    "panels",
                    {worded("panels {0} and {1} lie {2} apart, middle to middle, where joint {3} is drawn"),
                     {a.name, b.name, units::length_text(apart_m), joint.name}},
                    {worded("sheets that touch lie half of both thicknesses apart, {0} here with root_gap_mm"),
                     {units::length_text(mean_m + joint.root_gap_m)}});
                break;
            }
        }

    if (joint.type == JointType::butt && joint.size_m > thinner_m * 1.001)
        table.problem("depth",
                      {worded("the weld is deeper than the thinner sheet of {0}"), {units::length_text(thinner_m)}},
                      worded("give the depth that is welded from this side"));
    if (joint.type == JointType::plug && joint.size_m < a.thickness_m)
        table.problem(
            "hole",
            {worded("the hole is narrower than the sheet of {0} is thick"), {units::length_text(a.thickness_m)}},
            worded("the arc has to reach the bottom: give a wider hole"));
    for (std::size_t k = 0; joint.type == JointType::plug && k + 1 < joint.path.size(); ++k)
        if ((joint.path[k + 1] - joint.path[k]).norm() < joint.size_m * 1.2)
            table.problem(
                path_key,
                {worded("plugs {0} and {1} run into one another"), {std::to_string(k + 1), std::to_string(k + 2)}},
                worded("set them further apart"));
}

} // namespace holdtrue::part
