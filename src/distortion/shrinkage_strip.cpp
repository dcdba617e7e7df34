#include "distortion/shrinkage_strip.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace holdtrue::distortion {

namespace {

using part::Point;

constexpr int samples = 4; // per cell and direction

// The group's piece of path in short straight steps.
struct Chain {
    std::vector<Point> middle, tangent;
    std::vector<Point> to_foot; // from the weld to the middle of the panel that stands on another; 0: none does
    double half_step_m = 0;
};

// Of the group's point nearest to a place.
Point foot_direction(const WeldGroup& group, double along_m) {
    const auto nearest =
        std::ranges::min_element(group.points, {}, [&](const WeldPoint& at) { return std::abs(at.along_m - along_m); });
    if (nearest->stood_on == WeldPoint::StoodOn::none)
        return Point::Zero();
    return (nearest->stood_on == WeldPoint::StoodOn::a ? nearest->on_b : nearest->on_a).bend.position - nearest->place;
}

Chain chain_of(const part::Part& part, const WeldGroup& group) {
    const part::Joint& joint = part.joints[static_cast<std::size_t>(group.joint)];
    Chain chain;
    if (group.kind == part::PassKind::plug) {
        chain.middle.push_back(group.points[0].place);
        chain.tangent.push_back(Point::Zero());
        chain.to_foot.push_back(Point::Zero());
        return chain;
    }
    const int count = std::max(3, static_cast<int>(std::ceil(group.length_m / 0.004)));
    chain.half_step_m = 0.5 * group.length_m / count;
    for (int k = 0; k < count; ++k) {
        const double along = group.from_m + (2 * k + 1) * chain.half_step_m;
        chain.middle.push_back(part::path_point(joint, along));
        chain.tangent.push_back(part::path_tangent(joint, along));
        chain.to_foot.push_back(foot_direction(group, along));
    }
    return chain;
}

// The metal of one cell that lies in the strip, and the direction of the weld there.
struct Covered {
    double area_m2 = 0;
    Point tangent = Point::Zero();
};

// Cells within `half_width_m` of the chain, measured square to it; `outside`: only on the side that the weld is on of a
// panel that stands on this one.
std::map<int, Covered> cover(const part::Mesh& mesh, int panel, const Chain& chain, double half_width_m,
                             bool outside = false) {
    std::map<int, Covered> cells;
    const part::PanelGrid& grid = mesh.panels[static_cast<std::size_t>(panel)];
    Point low = chain.middle.front(), high = chain.middle.front();
    for (const Point& middle : chain.middle) {
        low = low.cwiseMin(middle);
        high = high.cwiseMax(middle);
    }
    const double reach = half_width_m + chain.half_step_m;
    for (int cell = grid.first_cell; cell < grid.first_cell + grid.cells_u() * grid.cells_v(); ++cell) {
        if (!mesh.cell_alive[static_cast<std::size_t>(cell)])
            continue;
        std::array<Point, 4> corner;
        for (std::size_t k = 0; k < 4; ++k)
            corner[k] = mesh.position_m[static_cast<std::size_t>(mesh.cell_nodes[static_cast<std::size_t>(cell)][k])];
        const double size = std::max((corner[2] - corner[0]).norm(), (corner[3] - corner[1]).norm());
        const Point centre = 0.25 * (corner[0] + corner[1] + corner[2] + corner[3]);
        if (((centre - low).array() < -(reach + size)).any() || ((centre - high).array() > reach + size).any())
            continue;
        const double area = 0.5 * (corner[2] - corner[0]).cross(corner[3] - corner[1]).norm();
        Covered covered;
        for (int i = 0; i < samples * samples; ++i) {
            const double s = (i % samples + 0.5) / samples, r = (i / samples + 0.5) / samples;
            const Point at =
                (1 - s) * (1 - r) * corner[0] + s * (1 - r) * corner[1] + s * r * corner[2] + (1 - s) * r * corner[3];
            double best = std::numeric_limits<double>::infinity();
            std::size_t nearest = 0;
            for (std::size_t k = 0; k < chain.middle.size(); ++k)
                if (const double d = (at - chain.middle[k]).squaredNorm(); d < best) {
                    best = d;
                    nearest = k;
                }
            const Point from = at - chain.middle[nearest];
            const double along = from.dot(chain.tangent[nearest]);
            if (chain.half_step_m > 0 && ((nearest == 0 && along < -chain.half_step_m) ||
                                          (nearest + 1 == chain.middle.size() && along > chain.half_step_m)))
                continue;
            const Point aside = from - along * chain.tangent[nearest];
            if (aside.norm() > half_width_m || (outside && aside.dot(chain.to_foot[nearest]) > 0))
                continue;
            covered.area_m2 += area / (samples * samples);
            covered.tangent += chain.tangent[nearest];
        }
        if (covered.area_m2 > 0)
            cells[cell] = covered;
    }
    return cells;
}

double total(const std::map<int, Covered>& cells) {
    double area = 0;
    for (const auto& [cell, covered] : cells)
        area += covered.area_m2;
    return area;
}

// Direction of the weld, in the element's own axes; turns the sheet's frame onto the element's.
Eigen::Vector2d weld_axis(const ShellElement& element, const Point& tangent) {
    const Eigen::Vector2d along = (element.axes() * tangent).head<2>();
    return along.norm() > 0 ? Eigen::Vector2d(along.normalized()) : Eigen::Vector2d(1, 0);
}

// (xx, yy, xy) of a tensor with `value` along a direction.
Eigen::Vector3d tensor_along(const Eigen::Vector2d& d, double value) {
    return value * Eigen::Vector3d(d.x() * d.x(), d.y() * d.y(), d.x() * d.y());
}
Eigen::Vector3d strain_along(const Eigen::Vector2d& d, double value) { // engineering shear
    return value * Eigen::Vector3d(d.x() * d.x(), d.y() * d.y(), 2 * d.x() * d.y());
}

// Loads of all covered cells, from the resultants that a cell holds per unit of area of the strip.
template <class Held>
UnitLoad unit_load(const ShellModel& model, const std::vector<int>& element_of_cell,
                   const std::map<int, Covered>& cells, const Held& held) {
    std::map<int, double> force;
    const double area = total(cells);
    for (const auto& [cell, covered] : cells) {
        const int e = element_of_cell[static_cast<std::size_t>(cell)];
        const ShellElement& element = model.element(e);
        const double share = covered.area_m2 / (element.area_m2() * area);
        const ElementVector f = share * element.forces_of(held(element, weld_axis(element, covered.tangent)));
        for (int i = 0; i < 24; ++i)
            force[6 * model.nodes_of(e)[static_cast<std::size_t>(i / 6)] + i % 6] += f[i];
    }
    UnitLoad load;
    load.force.assign(force.begin(), force.end());
    return load;
}

// Which side of panel `own` the weld is on: that of the other panel's metal, or of the weld's path off the sheet.
double weld_side(const part::Mesh& mesh, const WeldGroup& group, bool on_a, double thickness_m) {
    double side = 0;
    for (const WeldPoint& at : group.points) {
        const part::Attachment& place = (on_a ? at.on_a : at.on_b).bend;
        const Point normal = part::at(place, mesh.normal).normalized();
        side += normal.dot(at.place - place.position) / static_cast<double>(group.points.size());
        // Where the other panel stands on this sheet, its faces part along the normal.
        const double across = normal.dot(on_a ? at.opening : Point(-at.opening));
        if (std::abs(across) > 0.7)
            side += (across > 0 ? 0.5 : -0.5) * thickness_m / static_cast<double>(group.points.size());
    }
    return side > 0.2 * thickness_m ? 1 : side < -0.2 * thickness_m ? -1 : 0;
}

} // namespace

std::array<PanelStrip, 2> shrinkage_strips(const part::Part& part, const part::Mesh& mesh, const ShellModel& model,
                                           const std::vector<int>& element_of_cell, const WeldGroup& group) {
    const part::Joint& joint = part.joints[static_cast<std::size_t>(group.joint)];
    const Chain chain = chain_of(part, group);
    const bool plug = group.kind == part::PassKind::plug;
    std::array<PanelStrip, 2> strips;
    double metal = 0;
    for (const bool on_a : {true, false}) {
        const int panel = on_a ? joint.panel_a : joint.panel_b;
        const double t = part.panels[static_cast<std::size_t>(panel)].thickness_m;
        PanelStrip& strip = strips[on_a ? 0 : 1];
        const double per_length = group.length_m; // a strip's area over this is its width
        const std::map<int, Covered> narrow = cover(mesh, panel, chain, plug ? group.length_m : narrow_strip_m);
        const std::map<int, Covered> wide = cover(mesh, panel, chain, wide_strip_m);

        const auto tendon = [&](const ShellElement&, const Eigen::Vector2d& along) -> Resultants {
            if (plug)
                return {Eigen::Vector3d(-0.5, -0.5, 0), Eigen::Vector3d::Zero()};
            return {tensor_along(along, -per_length), Eigen::Vector3d::Zero()};
        };
        strip.along_narrow = unit_load(model, element_of_cell, narrow, tendon);
        strip.along_wide = plug ? strip.along_narrow : unit_load(model, element_of_cell, wide, tendon);
        strip.side = weld_side(mesh, group, on_a, t);
        // Under the foot of a panel that stands on this one, the two are one piece and do not bend; beyond it no weld
        // is.
        const WeldPoint& at = group.points[group.points.size() / 2];
        const bool stood_on = at.stood_on == (on_a ? WeldPoint::StoodOn::a : WeldPoint::StoodOn::b);
        const std::map<int, Covered> beside = stood_on ? cover(mesh, panel, chain, narrow_strip_m, true) : narrow;
        if (!plug) {
            strip.across = unit_load(model, element_of_cell, narrow,
                                     [&](const ShellElement& element, const Eigen::Vector2d& along) {
                                         const Eigen::Vector2d across(-along.y(), along.x());
                                         return held_by(model.elastic(), element.thickness_m(),
                                                        {strain_along(across, -per_length), Eigen::Vector3d::Zero()});
                                     });
            strip.bend = unit_load(
                model, element_of_cell, beside, [&](const ShellElement& element, const Eigen::Vector2d& along) {
                    const Eigen::Vector2d across(-along.y(), along.x());
                    return held_by(model.elastic(), element.thickness_m(),
                                   {Eigen::Vector3d::Zero(), strain_along(across, -strip.side * per_length)});
                });
        }
        strip.share = t * total(narrow);
        metal += strip.share;
    }
    for (PanelStrip& strip : strips)
        strip.share = metal > 0 ? strip.share / metal : 0;
    return strips;
}

} // namespace holdtrue::distortion
