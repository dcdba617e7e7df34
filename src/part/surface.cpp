#include "part/surface.h"

#include <Eigen/Geometry>

#include <limits>

namespace holdtrue::part {
namespace {

// Of the mid-surface per unit of s and t.
Point area_vector(const Quad& quad, double s, double t) {
    const Point along = (1 - t) * (quad[1] - quad[0]) + t * (quad[2] - quad[3]);
    const Point across = (1 - s) * (quad[3] - quad[0]) + s * (quad[2] - quad[1]);
    return along.cross(across);
}

} // namespace

int segment_count(const Panel& panel) {
    const int points = static_cast<int>(panel.profile_a.size());
    return panel.closed ? points : points - 1;
}

Quad segment_quad(const Panel& panel, int segment) {
    const auto here = static_cast<std::size_t>(segment);
    const std::size_t next = (here + 1) % panel.profile_a.size();
    return {panel.profile_a[here], panel.profile_a[next], panel.profile_b[next], panel.profile_b[here]};
}

SurfacePlace nearest_place(const Panel& panel, const Point& point) {
    SurfacePlace best;
    best.distance_m = std::numeric_limits<double>::infinity();
    for (int segment = 0; segment < segment_count(panel); ++segment) {
        const QuadPlace place = nearest_on_quad(segment_quad(panel, segment), point);
        if (place.distance_m < best.distance_m)
            best = {segment, place.xi, place.eta, place.position, place.distance_m};
    }
    return best;
}

Point surface_normal(const Panel& panel, const SurfacePlace& place) {
    const Point vector = area_vector(segment_quad(panel, place.segment), place.s, place.t);
    return vector.norm() > 0 ? Point(vector.normalized()) : Point(0, 0, 0);
}

double panel_area_m2(const Panel& panel) {
    // Two-point Gauss rule each way: exact for flat segments, good to far below any tolerance for twisted ones.
    constexpr double gauss[] = {0.21132486540518712, 0.78867513459481288};
    double area = 0;
    for (int segment = 0; segment < segment_count(panel); ++segment)
        for (const double s : gauss)
            for (const double t : gauss)
                area += 0.25 * area_vector(segment_quad(panel, segment), s, t).norm();
    return area;
}

} // namespace holdtrue::part
