#include "heat/pass_track.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::heat {
namespace {

const part::Joint& joint_of(const part::Part& part, int pass) { return part.joints[part.passes[pass].joint]; }

// Linear between the track points about `along_m`.
template <class Place>
part::Point between(const PassTrack& track, double along_m, const Place& place) {
    if (track.points.size() == 1)
        return place(track.points.front());
    const double x = std::clamp(along_m / track.length_m, 0.0, 1.0) * static_cast<double>(track.points.size() - 1);
    const std::size_t k = std::min(static_cast<std::size_t>(x), track.points.size() - 2);
    const double share = x - static_cast<double>(k);
    return (1 - share) * place(track.points[k]) + share * place(track.points[k + 1]);
}

} // namespace

double cell_size_m(const part::Mesh& mesh, int cell) {
    double longest = 0;
    for (std::size_t c = 0; c < 4; ++c)
        longest = std::max(
            longest,
            (mesh.position_m[mesh.cell_nodes[cell][c]] - mesh.position_m[mesh.cell_nodes[cell][(c + 1) % 4]]).norm());
    return longest;
}

part::Point PassTrack::torch(double along_m) const {
    return between(*this, along_m, [](const TrackPoint& p) { return p.point; });
}

part::Point PassTrack::foot(int member, double along_m) const {
    return between(*this, along_m, [&](const TrackPoint& p) { return p.on[member].position; });
}

PassTrack track(const part::Part& part, const part::Mesh& mesh, int pass) {
    const part::Pass& p = part.passes[pass];
    const part::Joint& joint = joint_of(part, pass);
    PassTrack track;
    track.panel = {joint.panel_a, joint.panel_b};
    const auto add = [&](double along_m) {
        const part::Point point = part::path_point(joint, p.from_m + along_m);
        track.points.push_back(
            {along_m, point, {attach(mesh, joint.panel_a, point), attach(mesh, joint.panel_b, point)}});
    };
    if (p.kind == part::PassKind::plug) {
        add(0);
        return track;
    }
    track.length_m = p.to_m - p.from_m;
    add(0);
    const double element_m =
        std::min(cell_size_m(mesh, track.points[0].on[0].cell), cell_size_m(mesh, track.points[0].on[1].cell));
    const int count = std::max(2, static_cast<int>(std::ceil(track.length_m / (0.5 * element_m))));
    for (int k = 1; k <= count; ++k)
        add(track.length_m * k / count);
    return track;
}

double bridge_conductance_per_m(const part::Joint& joint) {
    const bool across_leg = joint.type == part::JointType::fillet || joint.type == part::JointType::lap;
    return across_leg ? std::numbers::sqrt2 / 2 : 1.0;
}

double bridge_conductance_m(const part::Part& part, const part::Mesh& mesh, int pass) {
    const part::Joint& joint = joint_of(part, pass);
    const double way_m = (mesh.panels[joint.panel_a].thickness_m + mesh.panels[joint.panel_b].thickness_m) / 2;
    return std::numbers::pi * joint.size_m * joint.size_m / 4 / way_m;
}

std::vector<Bridge> bridges(const part::Part& part, const part::Mesh& mesh, int pass, const PassTrack& track,
                            double throat_m) {
    const part::Joint& joint = joint_of(part, pass);
    std::vector<Bridge> result;
    const auto add = [&](const part::Attachment& a, const part::Attachment& b, double conductance_m) {
        result.push_back({a.node, b.node, a.weight, b.weight, conductance_m});
    };
    if (part.passes[pass].kind == part::PassKind::plug) {
        // The middle of the hole and four places on the circle of half its area, a fifth of the hole each.
        const double radius_m = joint.size_m / 2;
        const double conductance_m = bridge_conductance_m(part, mesh, pass) / 5;
        const TrackPoint& middle = track.points.front();
        add(middle.on[0], middle.on[1], conductance_m);
        const part::Point normal = mesh.normal[middle.on[0].node[0]];
        const part::Point u = normal.unitOrthogonal(), v = normal.cross(u);
        for (const part::Point& arm : {u, v, part::Point(-u), part::Point(-v)}) {
            const part::Point point = middle.point + arm * (radius_m * std::numbers::sqrt2 / 2);
            add(attach(mesh, track.panel[0], point), attach(mesh, track.panel[1], point), conductance_m);
        }
        return result;
    }
    if (throat_m <= 0)
        return result;
    // Every second track point, the middle of an element's length.
    const std::size_t parts = track.points.size() / 2;
    for (std::size_t k = 0; k < parts; ++k) {
        const std::size_t at = std::min(2 * k + 1, track.points.size() - 1);
        const double from_m = track.points[2 * k].along_m;
        const double to_m = k + 1 < parts ? track.points[2 * k + 2].along_m : track.length_m;
        add(track.points[at].on[0], track.points[at].on[1], bridge_conductance_per_m(joint) * (to_m - from_m));
    }
    return result;
}

std::vector<int> nodes_along(const part::Mesh& mesh, const PassTrack& track) {
    std::vector<int> nodes;
    for (std::size_t member = 0; member < 2; ++member) {
        const auto foot = [&](std::size_t k) { return track.points[k].on[member].position; };
        const part::Point middle = foot(track.points.size() / 2);
        double reach_m = 0; // from there to the farthest place of the pass
        for (std::size_t k = 0; k < track.points.size(); ++k)
            reach_m = std::max(reach_m, (foot(k) - middle).norm());
        const part::PanelGrid& grid = mesh.panels[track.panel[member]];
        const double within_m =
            std::max(std::min(4 * grid.thickness_m, 0.050), cell_size_m(mesh, track.points.front().on[member].cell));
        const double about_m = 1.001 * (reach_m + within_m);
        for (int node = grid.first_node; node < grid.first_node + grid.nu * grid.nv; ++node) {
            const part::Point& place = mesh.position_m[node];
            if (mesh.node_alive[node] && (place - middle).squaredNorm() <= about_m * about_m &&
                std::ranges::any_of(track.points, [&](const TrackPoint& p) {
                    return (p.on[member].position - place).squaredNorm() <= within_m * within_m;
                }))
                nodes.push_back(node);
        }
        if (track.panel[0] == track.panel[1])
            break;
    }
    return nodes;
}

} // namespace holdtrue::heat
