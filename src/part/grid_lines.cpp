#include "part/grid_lines.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace holdtrue::part {
namespace {

constexpr double least_strip = 0.4; // of the element size

struct Size { // of a segment through a place, in metres per unit of s and t
    double along_m, across_m;
};

Size local_size(const Quad& quad, double s, double t) {
    return {((1 - t) * (quad[1] - quad[0]) + t * (quad[2] - quad[3])).norm(),
            ((1 - s) * (quad[3] - quad[0]) + s * (quad[2] - quad[1])).norm()};
}

// Wanted places on a unit interval, most wanted first.
using Wanted = std::vector<double>;

std::vector<double> divide(double length_m, double element_m, const Wanted& wanted, int at_least) {
    std::vector<double> fixed{0, 1};
    const double gap = least_strip * element_m / length_m;
    for (const double place : wanted)
        if (std::ranges::all_of(fixed, [&](double other) { return std::abs(place - other) >= gap; }))
            fixed.push_back(place);
    std::ranges::sort(fixed);

    std::vector<double> lines{0};
    for (std::size_t k = 0; k + 1 < fixed.size(); ++k) {
        const double cells = (fixed[k + 1] - fixed[k]) * length_m / element_m;
        // Up to a quarter over the asked size is let pass rather than halving the cell.
        int count = std::max(1, static_cast<int>(std::ceil(cells - 0.25)));
        if (fixed.size() == 2)
            count = std::max(count, at_least);
        for (int n = 1; n <= count; ++n)
            lines.push_back(fixed[k] + (fixed[k + 1] - fixed[k]) * n / count);
    }
    lines.back() = 1;
    return lines;
}

// A hole is given a square of its own area, so that as much metal is missing before its corners are rounded.
double half_side(const CutOut& cut_out) { return 0.5 * std::sqrt(std::numbers::pi) * cut_out.radius_m; }

struct WantedLines {
    std::vector<Wanted> u; // of each segment
    Wanted v;
};

void want_holes(const Panel& panel, const std::vector<HoleBlock>& holes, WantedLines& wanted) {
    for (const HoleBlock& hole : holes) {
        const SurfacePlace& at = hole.centre;
        const Size size = local_size(segment_quad(panel, at.segment), at.s, at.t);
        for (const double side : {-half_side(*hole.cut_out), half_side(*hole.cut_out)}) {
            wanted.u[static_cast<std::size_t>(at.segment)].push_back(at.s + side / size.along_m);
            wanted.v.push_back(at.t + side / size.across_m);
        }
    }
}

// Where a panel's line for a joint runs. On a sheet so coarse that the two sides of a foot standing on it cannot both
// have a line, it is the middle of the foot, so that neither side is preferred.
Point line_place(const Part& part, int index, const Joint& joint, const Point& place, double element_m) {
    const int other = joint.panel_a == index ? joint.panel_b : joint.panel_a;
    const Panel& standing = part.panels[static_cast<std::size_t>(other)];
    if (joint.type != JointType::fillet || standing.thickness_m >= least_strip * element_m)
        return place;
    return nearest_place(standing, place).position;
}

void want_joint(const Part& part, int index, const Joint& joint, double element_m, WantedLines& wanted) {
    const Panel& panel = part.panels[static_cast<std::size_t>(index)];
    const std::size_t count = joint.path.size();
    const std::size_t stretches = joint.type == JointType::plug ? 0 : joint.closed_path ? count : count - 1;
    for (std::size_t k = 0; k < stretches; ++k) {
        const auto on_panel = [&](const Point& place) {
            return nearest_place(panel, line_place(part, index, joint, place, element_m));
        };
        const SurfacePlace from = on_panel(joint.path[k]), to = on_panel(joint.path[(k + 1) % count]);
        if (from.segment != to.segment)
            continue;
        const Size size = local_size(segment_quad(panel, from.segment), from.s, from.t);
        const double along_m = std::abs(to.s - from.s) * size.along_m;
        const double across_m = std::abs(to.t - from.t) * size.across_m;
        const double parallel_m = 0.05 * element_m;
        if (across_m < parallel_m && along_m > element_m)
            wanted.v.push_back(0.5 * (from.t + to.t));
        else if (along_m < parallel_m && across_m > element_m)
            wanted.u[static_cast<std::size_t>(from.segment)].push_back(0.5 * (from.s + to.s));
    }
}

int nearest_index(const std::vector<double>& places, double wanted) {
    const auto nearest = std::ranges::min_element(places, {}, [&](double place) { return std::abs(place - wanted); });
    return static_cast<int>(nearest - places.begin());
}

// The lines nearest to low and high, at least one cell apart and never the outermost ones if that can be had.
std::pair<int, int> block_between(const std::vector<double>& places, double low, double high) {
    const int last = static_cast<int>(places.size()) - 1;
    int from = nearest_index(places, low), to = nearest_index(places, high);
    if (from == to)
        (to < last ? to : from) += to < last ? 1 : -1;
    return {from, to};
}

double longest_ruling_m(const Panel& panel) {
    double ruling_m = 0;
    for (std::size_t k = 0; k < panel.profile_a.size(); ++k)
        ruling_m = std::max(ruling_m, (panel.profile_b[k] - panel.profile_a[k]).norm());
    return ruling_m;
}

double longer_side_m(const Quad& quad) { return std::max((quad[1] - quad[0]).norm(), (quad[2] - quad[3]).norm()); }

} // namespace

double expected_cells(const Panel& panel, double element_m) {
    double columns = 0;
    for (int segment = 0; segment < segment_count(panel); ++segment)
        columns += std::ceil(longer_side_m(segment_quad(panel, segment)) / element_m);
    return columns * std::ceil(longest_ruling_m(panel) / element_m);
}

GridLines grid_lines(const Part& part, int index, double element_m) {
    const Panel& panel = part.panels[static_cast<std::size_t>(index)];
    const int segments = segment_count(panel);
    GridLines lines;
    for (const CutOut& cut_out : panel.cut_outs) {
        HoleBlock hole;
        hole.cut_out = &cut_out;
        hole.centre = nearest_place(panel, cut_out.centre);
        lines.holes.push_back(hole);
    }

    WantedLines wanted{std::vector<Wanted>(static_cast<std::size_t>(segments)), {}};
    want_holes(panel, lines.holes, wanted);
    for (const Joint& joint : part.joints)
        if (joint.panel_a == index || joint.panel_b == index)
            want_joint(part, index, joint, element_m, wanted);

    lines.v = divide(longest_ruling_m(panel), element_m, wanted.v, 2);

    for (int segment = 0; segment < segments; ++segment) {
        const Quad quad = segment_quad(panel, segment);
        const std::vector<double> places =
            divide(longer_side_m(quad), element_m, wanted.u[static_cast<std::size_t>(segment)], segments == 1 ? 2 : 1);
        const int first = static_cast<int>(lines.u.size());
        for (HoleBlock& hole : lines.holes)
            if (hole.centre.segment == segment) {
                const double half = half_side(*hole.cut_out) / local_size(quad, hole.centre.s, hole.centre.t).along_m;
                const auto [from, to] = block_between(places, hole.centre.s - half, hole.centre.s + half);
                hole.i0 = first + from;
                hole.i1 = first + to;
                hole.s0 = places[static_cast<std::size_t>(from)];
                hole.s1 = places[static_cast<std::size_t>(to)];
            }
        for (std::size_t k = 0; k + 1 < places.size(); ++k)
            lines.u.push_back({segment, places[k]});
    }
    if (!panel.closed)
        lines.u.push_back({segments - 1, 1.0});

    for (HoleBlock& hole : lines.holes) {
        const Quad quad = segment_quad(panel, hole.centre.segment);
        const double half = half_side(*hole.cut_out) / local_size(quad, hole.centre.s, hole.centre.t).across_m;
        std::tie(hole.j0, hole.j1) = block_between(lines.v, hole.centre.t - half, hole.centre.t + half);
        hole.t0 = lines.v[static_cast<std::size_t>(hole.j0)];
        hole.t1 = lines.v[static_cast<std::size_t>(hole.j1)];
    }
    return lines;
}

} // namespace holdtrue::part
