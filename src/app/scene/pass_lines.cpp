#include "app/scene/pass_lines.h"

#include "part/surface.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::app::scene {

namespace {

using Index = std::size_t;

part::Point plug_centre(const part::Joint& joint, const part::Pass& pass) {
    return joint.path[Index(std::lround(pass.from_m))];
}

std::vector<part::Point> ring(const part::Part& part, const part::Joint& joint, const part::Point& centre) {
    // In the plane of the sheet the plug goes through.
    const part::Panel& panel = part.panels[Index(joint.panel_a)];
    const part::Point u = (panel.profile_a[1] - panel.profile_a[0]).normalized();
    const part::Point other = panel.profile_b[0] - panel.profile_a[0];
    const part::Point v = (other - u * other.dot(u)).normalized();
    std::vector<part::Point> line;
    constexpr int corners = 20;
    for (int k = 0; k <= corners; ++k) {
        const double angle = 2 * std::numbers::pi * k / corners;
        line.push_back(centre + joint.size_m / 2 * (std::cos(angle) * u + std::sin(angle) * v));
    }
    return line;
}

bool at_rim(const part::Panel& panel, const part::SurfacePlace& place) {
    constexpr double least = 1e-6;
    const bool first = place.segment == 0 && place.s < least;
    const bool last = place.segment == part::segment_count(panel) - 1 && place.s > 1 - least;
    return place.t < least || place.t > 1 - least || (!panel.closed && (first || last));
}

// Off a panel's mid-surface, along its normal; the other panel is flush with it where this is next to nothing.
part::Point height(const part::Panel& panel, const part::Point& point) {
    const part::SurfacePlace foot = part::nearest_place(panel, point);
    const part::Point normal = part::surface_normal(panel, foot);
    return normal.dot(point - foot.position) * normal;
}

// The panels on whose faces a bead lies.
std::vector<const part::Panel*> carriers(const part::Part& part, const part::Joint& joint, const part::Point& middle) {
    std::vector<const part::Panel*> panels;
    constexpr double flush_m = 0.0002;
    for (const int index : {joint.panel_a, joint.panel_b}) {
        const part::Panel& panel = part.panels[Index(index)];
        // A lap lies on the sheet that goes on beyond it, at the rim of the other.
        const bool passed_by = joint.type == part::JointType::lap && at_rim(panel, part::nearest_place(panel, middle));
        if (height(panel, middle).norm() > flush_m && !passed_by)
            panels.push_back(&panel);
    }
    return panels;
}

part::Point to_face(const part::Part& part, const part::Joint& joint, const std::vector<const part::Panel*>& on,
                    const part::Point& point) {
    if (joint.type == part::JointType::plug) { // drawn between the sheets, filled from the far side of the first
        const part::Point below = height(part.panels[Index(joint.panel_a)], point);
        return -2 * below - 0.001 * below.normalized();
    }
    constexpr double bead_m = 0.003; // about a leg
    part::Point outwards = part::Point::Zero();
    for (const part::Panel* panel : on)
        outwards += height(*panel, point).normalized();
    return outwards.norm() > 0.1 ? part::Point(bead_m * outwards.normalized()) : part::Point(part::Point::Zero());
}

} // namespace

std::vector<part::Point> pass_line(const part::Part& part, const part::Pass& pass) {
    const part::Joint& joint = part.joints[Index(pass.joint)];
    if (pass.kind == part::PassKind::plug)
        return ring(part, joint, plug_centre(joint, pass));
    // The ends, and every corner of the joint's path between them.
    std::vector<part::Point> line{part::path_point(joint, pass.from_m)};
    const Index count = joint.path.size(), segments = joint.closed_path ? count : count - 1;
    double along_m = 0;
    for (Index k = 0; k < segments; ++k) {
        along_m += (joint.path[(k + 1) % count] - joint.path[k]).norm();
        if (along_m > pass.from_m + 1e-9 && along_m < pass.to_m - 1e-9)
            line.push_back(joint.path[(k + 1) % count]);
    }
    line.push_back(part::path_point(joint, pass.to_m));
    return line;
}

Anchors anchor_passes(const part::Part& part, const part::Mesh& mesh) {
    Anchors anchors;
    for (const part::Pass& pass : part.passes) {
        const part::Joint& joint = part.joints[Index(pass.joint)];
        std::vector<part::Point> line = pass_line(part, pass);
        line.push_back(pass.kind == part::PassKind::plug ? plug_centre(joint, pass)
                                                         : part::path_point(joint, 0.5 * (pass.from_m + pass.to_m)));
        const auto on = carriers(part, joint, line.back());
        auto& row = anchors.emplace_back();
        for (const part::Point& point : line)
            row.push_back({point, part::attach(mesh, joint.panel_a, point), to_face(part, joint, on, point)});
    }
    return anchors;
}

Anchors anchor_gauges(const part::Part& part, const part::Mesh& mesh) {
    Anchors anchors;
    for (const part::Gauge& gauge : part.gauges) {
        auto& row = anchors.emplace_back();
        for (Index k = 0; k < gauge.point.size(); ++k)
            row.push_back({gauge.point[k], part::attach(mesh, gauge.panel[k], gauge.point[k]), part::Point::Zero()});
    }
    return anchors;
}

part::Point ride(const Anchor& anchor, const part::Mesh& mesh, const std::vector<part::Point>& place) {
    return anchor.drawn + part::at(anchor.on, place) - part::at(anchor.on, mesh.position_m);
}

PassLines lay_passes(const part::Part& part, const part::Mesh& mesh, const Anchors& anchors,
                     const std::vector<part::Point>& place) {
    PassLines lines;
    for (Index p = 0; p < anchors.size(); ++p) {
        std::vector<part::Point> moved, to_face;
        for (const Anchor& anchor : anchors[p]) {
            moved.push_back(ride(anchor, mesh, place));
            to_face.push_back(anchor.to_face);
        }
        lines.middle.push_back(moved.back()); // anchor_passes() put it after the line itself
        moved.pop_back();
        lines.line.push_back(std::move(moved));
        lines.to_face.push_back(std::move(to_face));
        lines.ring.push_back(part.passes[p].kind == part::PassKind::plug);
    }
    return lines;
}

double length_m(std::span<const part::Point> line) {
    double length = 0;
    for (Index k = 0; k + 1 < line.size(); ++k)
        length += (line[k + 1] - line[k]).norm();
    return length;
}

part::Point along_line(std::span<const part::Point> line, double share) {
    double left_m = std::clamp(share, 0.0, 1.0) * length_m(line);
    for (Index k = 0; k + 1 < line.size(); ++k) {
        const double segment_m = (line[k + 1] - line[k]).norm();
        if (left_m <= segment_m && segment_m > 0)
            return line[k] + (left_m / segment_m) * (line[k + 1] - line[k]);
        left_m -= segment_m;
    }
    return line.back();
}

std::vector<part::Point> first_part(std::span<const part::Point> line, double share, bool reversed) {
    std::vector<part::Point> way(line.begin(), line.end());
    if (reversed)
        std::ranges::reverse(way);
    const double end_m = std::clamp(share, 0.0, 1.0) * length_m(way);
    std::vector<part::Point> part_of_way{way.front()};
    double along_m = 0;
    for (Index k = 0; k + 1 < way.size(); ++k) {
        along_m += (way[k + 1] - way[k]).norm();
        if (along_m >= end_m)
            break;
        part_of_way.push_back(way[k + 1]);
    }
    part_of_way.push_back(along_line(way, share));
    return part_of_way;
}

} // namespace holdtrue::app::scene
