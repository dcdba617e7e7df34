#include "distortion/weld_group.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace holdtrue::distortion {

namespace {

using part::JointType;
using part::Point;

// Mean place of the metal of a panel within a few cells of a point.
Point metal_near(const part::Mesh& mesh, int panel, const Point& point, double radius_m) {
    const part::PanelGrid& grid = mesh.panels[static_cast<std::size_t>(panel)];
    Point sum = Point::Zero();
    double weight = 0;
    for (int cell = grid.first_cell; cell < grid.first_cell + grid.cells_u() * grid.cells_v(); ++cell) {
        if (!mesh.cell_alive[static_cast<std::size_t>(cell)])
            continue;
        Point middle = Point::Zero();
        for (const int node : mesh.cell_nodes[static_cast<std::size_t>(cell)])
            middle += 0.25 * mesh.position_m[static_cast<std::size_t>(node)];
        const double share = std::max(0.0, 1 - (middle - point).norm() / radius_m);
        sum += share * middle;
        weight += share;
    }
    return weight > 0 ? Point(sum / weight) : point;
}

Point square_to(const Point& vector, const Point& axis) { return vector - vector.dot(axis) * axis; }

// Whether a panel's metal is found on both sides of a sheet that it meets at a point.
bool goes_past(const part::Mesh& mesh, int panel, const Point& point, const Point& normal, double sheet_m) {
    const double past_m = 2 * sheet_m, at_m = part::attach(mesh, panel, point).distance_m;
    return std::ranges::all_of(std::array{past_m, -past_m}, [&](double off_m) {
        return part::attach(mesh, panel, point + off_m * normal).distance_m < at_m + past_m / 3;
    });
}

// Which way the faces of a joint part, from panel a to panel b.
Point opening_direction(const part::Part& part, const part::Mesh& mesh, const part::Joint& joint, const WeldPoint& at) {
    const Point normal_a = square_to(at.on_a.normal, at.tangent).normalized();
    const Point normal_b = square_to(at.on_b.normal, at.tangent).normalized();
    const Point apart = at.on_b.bend.position - at.on_a.bend.position;
    if (joint.type == JointType::plug || joint.type == JointType::lap)
        return apart.dot(normal_b) >= 0 ? normal_b : Point(-normal_b);
    const auto thickness_m = [&](int panel) { return part.panels[static_cast<std::size_t>(panel)].thickness_m; };
    // From the weld into the metal of either panel, across the weld: long for a panel that ends there.
    const auto into = [&](int panel) -> Point {
        const double reach = 3 * part.panels[static_cast<std::size_t>(panel)].element_m.value_or(part.element_m);
        return square_to(metal_near(mesh, panel, at.place, reach) - at.place, at.tangent) / reach;
    };
    const Point into_a = into(joint.panel_a), into_b = into(joint.panel_b);
    if (joint.type == JointType::butt || joint.type == JointType::edge) {
        const Point in_sheet = square_to(into_a, normal_a);
        if (in_sheet.norm() > 0.05)
            return -in_sheet.normalized();
    }
    // One panel ends on the face of the other, which it cannot pass. The other goes on past it both ways; failing that,
    // it is the one that reaches less far to one side.
    const bool a_goes_on = goes_past(mesh, joint.panel_a, at.place, normal_b, thickness_m(joint.panel_b));
    const bool b_goes_on = goes_past(mesh, joint.panel_b, at.place, normal_a, thickness_m(joint.panel_a));
    if (a_goes_on == b_goes_on ? into_a.norm() >= into_b.norm() : b_goes_on)
        return into_a.dot(normal_b) <= 0 ? normal_b : Point(-normal_b);
    return into_b.dot(normal_a) >= 0 ? normal_a : Point(-normal_a);
}

WeldPoint weld_point(const part::Part& part, const part::Mesh& mesh, const part::Joint& joint, double along_m) {
    WeldPoint at;
    at.along_m = along_m;
    at.place = part::path_point(joint, along_m);
    at.tangent = part::path_tangent(joint, along_m);
    at.on_a = grip(mesh, joint.panel_a, at.place);
    at.on_b = grip(mesh, joint.panel_b, at.place);
    if (joint.type == JointType::plug) { // a frame in the sheet
        const Point normal = at.on_b.normal;
        at.tangent = square_to(std::abs(normal.x()) < 0.7 ? Point(1, 0, 0) : Point(0, 1, 0), normal).normalized();
    }
    at.opening = opening_direction(part, mesh, joint, at);
    if (joint.type != JointType::fillet)
        return at;
    // Faces part square to the sheet that is stood on.
    const auto middle_of_foot = [&](int panel, const Grip& foot) { return attach(mesh, panel, foot.slide.position); };
    if (std::abs(at.on_b.normal.dot(at.opening)) > 0.7) {
        at.stood_on = WeldPoint::StoodOn::b;
        at.on_b.bend = middle_of_foot(joint.panel_b, at.on_a);
    } else if (std::abs(at.on_a.normal.dot(at.opening)) > 0.7) {
        at.stood_on = WeldPoint::StoodOn::a;
        at.on_a.bend = middle_of_foot(joint.panel_a, at.on_b);
    }
    return at;
}

WeldGroup make_group(const part::Part& part, const part::Mesh& mesh, int pass, int joint_index, part::PassKind kind,
                     double from_m, double to_m) {
    const part::Joint& joint = part.joints[static_cast<std::size_t>(joint_index)];
    WeldGroup group;
    group.pass = pass;
    group.joint = joint_index;
    group.kind = kind;
    group.from_m = from_m;
    group.to_m = to_m;
    if (kind == part::PassKind::plug) {
        group.length_m = joint.size_m;
        group.points.push_back(weld_point(part, mesh, joint, from_m));
        return group;
    }
    group.length_m = to_m - from_m;
    const int count = std::max(2, static_cast<int>(std::lround(group.length_m / part.element_m)));
    for (int k = 0; k < count; ++k)
        group.points.push_back(weld_point(part, mesh, joint, from_m + (k + 0.5) * group.length_m / count));
    return group;
}

// By how much a stretch of a joint turns about itself.
double turning_rad(const part::Joint& joint, double from_m, double to_m) {
    constexpr int samples = 24;
    double turning = 0;
    Point before = part::path_tangent(joint, from_m);
    for (int k = 1; k <= samples; ++k) {
        const Point now = part::path_tangent(joint, from_m + (to_m - from_m) * k / samples);
        turning += std::acos(std::clamp(now.dot(before), -1.0, 1.0));
        before = now;
    }
    return turning;
}

} // namespace

std::vector<WeldGroup> weld_groups(const part::Part& part, const part::Mesh& mesh, const GroupSettings& settings) {
    std::vector<WeldGroup> groups;
    for (std::size_t p = 0; p < part.passes.size(); ++p) {
        const part::Pass& pass = part.passes[p];
        int count = 1;
        if (pass.kind == part::PassKind::run) {
            const part::Joint& joint = part.joints[static_cast<std::size_t>(pass.joint)];
            const double bends = turning_rad(joint, pass.from_m, pass.to_m) / settings.group_turn_rad;
            count = std::clamp(static_cast<int>(std::lround((pass.to_m - pass.from_m) / settings.group_m)), 1,
                               settings.groups_per_pass);
            // Averages over a bent stretch tie what lies in the bend, not along it: 1e-6 for a whole number of bends.
            count = std::max(count, std::min(settings.groups_per_pass, static_cast<int>(std::ceil(bends - 1e-6))));
        }
        for (int k = 0; k < count; ++k) {
            const double step = (pass.to_m - pass.from_m) / count;
            groups.push_back(make_group(part, mesh, static_cast<int>(p), pass.joint, pass.kind, pass.from_m + k * step,
                                        pass.from_m + (k + 1) * step));
            groups.back().alone = count == 1;
        }
    }
    for (std::size_t j = 0; j < part.joints.size(); ++j) {
        const part::Joint& joint = part.joints[j];
        if (!joint.tacked || joint.type == JointType::plug)
            continue;
        const double length = part::path_length_m(joint);
        const int count = std::max(2, static_cast<int>(std::lround(length / settings.tack_pitch_m)) + 1);
        const double tack = std::min(settings.tack_m, 0.5 * length / count);
        for (int k = 0; k < count; ++k) {
            const double from = joint.closed_path ? k * length / count : k * (length - tack) / (count - 1);
            groups.push_back(make_group(part, mesh, -1, static_cast<int>(j), part::PassKind::tack, from, from + tack));
            groups.back().alone = true;
        }
    }
    return groups;
}

std::vector<int> WeldGroup::tie_rows() const {
    std::vector<int> rows(static_cast<std::size_t>(tie_count));
    std::iota(rows.begin(), rows.end(), first_tie);
    return rows;
}

double covered_share(const WeldGroup& under, double under_half_width_m, const WeldGroup& over,
                     double over_half_width_m) {
    const double reach_m = 0.5 * over.length_m / static_cast<double>(over.points.size());
    const double widths_m = under_half_width_m + over_half_width_m;
    if ((under.points.front().place - over.points.front().place).norm() >
        under.length_m + over.length_m + widths_m + 2 * reach_m)
        return 0; // no two of their points are near enough
    double covered = 0;
    for (const WeldPoint& old : under.points) {
        double most = 0;
        for (const WeldPoint& at : over.points) {
            const part::Point apart = old.place - at.place;
            const double along_m = std::abs(apart.dot(at.tangent));
            const double aside_m = (apart - apart.dot(at.tangent) * at.tangent).norm();
            if (along_m <= 1.01 * reach_m)
                most = std::max(most, (widths_m - aside_m) / (2 * under_half_width_m));
        }
        covered += std::clamp(most, 0.0, 1.0) / static_cast<double>(under.points.size());
    }
    return covered;
}

std::vector<Tie> ties(const WeldGroup& group, double thinner_m, double young_pa) {
    // As stiff as weld metal that is as thick as it is wide; the panels about it give far more.
    const double stiffness = young_pa * group.length_m;
    const double turning = stiffness * thinner_m * thinner_m / 12;
    const double share = 1.0 / static_cast<double>(group.points.size());
    const bool plug = group.kind == part::PassKind::plug, slopes = group.alone && !plug;
    std::vector<Tie> list(slopes ? 6 : plug ? 5 : 4, {{}, stiffness});
    list[3].stiffness = turning;
    if (plug)
        list[4].stiffness = turning;
    double spread = 0; // mean square distance from the group's middle, along the weld
    const double middle = 0.5 * (group.from_m + group.to_m);
    for (const WeldPoint& at : group.points)
        spread += share * (at.along_m - middle) * (at.along_m - middle);
    if (slopes)
        list[4].stiffness = list[5].stiffness = stiffness * group.length_m * group.length_m / 12;
    for (const WeldPoint& at : group.points) {
        const Point third = at.tangent.cross(at.opening);
        const std::array<Point, 3> axes{at.tangent, at.opening, third};
        for (std::size_t k = 0; k < 3; ++k) {
            list[k].row.add_displacement(at.on_b, at.place, axes[k], share);
            list[k].row.add_displacement(at.on_a, at.place, axes[k], -share);
            if (slopes && k > 0) {
                const double slope = share * (at.along_m - middle) / spread;
                list[3 + k].row.add_displacement(at.on_b, at.place, axes[k], slope);
                list[3 + k].row.add_displacement(at.on_a, at.place, axes[k], -slope);
            }
        }
        list[3].row.add_rotation(at.on_b, at.tangent, share);
        list[3].row.add_rotation(at.on_a, at.tangent, -share);
        if (plug) {
            list[4].row.add_rotation(at.on_b, third, share);
            list[4].row.add_rotation(at.on_a, third, -share);
        }
    }
    return list;
}

} // namespace holdtrue::distortion
