#include "app/scene/lines.h"

#include <algorithm>

namespace holdtrue::app::scene {

namespace {

using Index = std::size_t;
constexpr double straight_m = 1e-4;

// Whether the points between the two lie on the stretch from one to the other.
bool straight(std::span<const Eigen::Vector3d> points, Index from, Index to) {
    const Eigen::Vector3d along = points[to] - points[from];
    const double length_m = along.norm();
    for (Index k = from + 1; k < to; ++k) {
        const Eigen::Vector3d there = points[k] - points[from];
        const double share = length_m > 0 ? std::clamp(there.dot(along) / (length_m * length_m), 0.0, 1.0) : 0;
        if ((there - share * along).norm() > straight_m)
            return false;
    }
    return true;
}

} // namespace

void add_polyline(std::vector<Segment>& lines, std::span<const Eigen::Vector3d> points, Colour colour, float width_px,
                  float lift) {
    for (Index from = 0, to = 1; to < points.size(); ++to)
        if (to + 1 == points.size() || !straight(points, from, to + 1)) {
            lines.push_back({points[from].cast<float>(), points[to].cast<float>(), colour, width_px, lift});
            from = to;
        }
}

} // namespace holdtrue::app::scene
