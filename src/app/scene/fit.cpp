#include "app/scene/fit.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::app::scene {

namespace {

using Corners = std::array<Eigen::Vector2d, 8>; // on the screen, from where the target stands, y down

constexpr double margin = 1.12;
constexpr double farther = 1.05, farthest = 4; // steps of the distance until the box is clear, and where to give up
constexpr double shift_step = 1.0 / 24;        // of the view's height

// Half planes {n, c}: n.p <= c for every corner. Those through two corners with all others on one side bound the hull.
struct HalfPlane {
    Eigen::Vector2d normal;
    double reach;
};
std::vector<HalfPlane> hull(const Corners& corners) {
    std::vector<HalfPlane> planes;
    for (const Eigen::Vector2d& a : corners)
        for (const Eigen::Vector2d& b : corners) {
            const Eigen::Vector2d along = b - a, normal{along.y(), -along.x()};
            if (along.norm() < 1e-9)
                continue;
            const double reach = normal.dot(a);
            if (std::ranges::all_of(corners, [&](const Eigen::Vector2d& corner) {
                    return normal.dot(corner) <= reach + 1e-9 * along.squaredNorm();
                }))
                planes.push_back({normal, reach});
        }
    return planes;
}

struct Outline {
    std::vector<HalfPlane> planes;
    Eigen::Vector2d low, high;
};
Outline outline(const Corners& corners) {
    Outline result{hull(corners), corners[0], corners[0]};
    for (const Eigen::Vector2d& corner : corners) {
        result.low = result.low.cwiseMin(corner);
        result.high = result.high.cwiseMax(corner);
    }
    return result;
}

// Two convex shapes are apart if an edge of one of them parts them.
bool meets(const Outline& shape, const Eigen::Vector2d& target, const Rectangle& rectangle) {
    const double left = rectangle.left_px - target.x(), right = rectangle.right_px - target.x();
    const double top = rectangle.top_px - target.y(), bottom = rectangle.bottom_px - target.y();
    if (shape.high.x() <= left || shape.low.x() >= right || shape.high.y() <= top || shape.low.y() >= bottom)
        return false;
    return std::ranges::none_of(shape.planes, [&](const HalfPlane& plane) {
        const double nearest =
            std::min(plane.normal.x() * left, plane.normal.x() * right) +
            std::min(plane.normal.y() * top, plane.normal.y() * bottom);
        return nearest >= plane.reach;
    });
}

bool clear(const Outline& shape, const Eigen::Vector2d& target, const Frame& frame) {
    const double slack_px = 1e-6;
    return target.x() + shape.low.x() >= -slack_px && target.x() + shape.high.x() <= frame.width_px + slack_px &&
           target.y() + shape.low.y() >= -slack_px && target.y() + shape.high.y() <= frame.height_px + slack_px &&
           std::ranges::none_of(frame.covered,
                                [&](const Rectangle& rectangle) { return meets(shape, target, rectangle); });
}

// In steps to the right and up, the smallest first; none leaves the view.
std::vector<Eigen::Vector2d> shifts(double aspect) {
    std::vector<Eigen::Vector2d> result;
    const int sideways = static_cast<int>(0.5 * aspect / shift_step), upwards = static_cast<int>(0.5 / shift_step);
    for (int x = -sideways; x <= sideways; ++x)
        for (int y = -upwards; y <= upwards; ++y)
            result.emplace_back(x * shift_step, y * shift_step);
    std::ranges::stable_sort(result, {}, [](const Eigen::Vector2d& shift) { return shift.squaredNorm(); });
    return result;
}

} // namespace

void fit(Camera& camera, const Box& box, const Frame& frame) {
    if (box.empty())
        return;
    camera.target = 0.5 * (box.low + box.high);
    camera.shift.setZero();
    const double aspect = frame.width_px / std::max(frame.height_px, 1.0);
    const double tan_v = std::tan(camera.field_rad / 2), tan_h = tan_v * std::max(aspect, 0.1);
    const Eigen::Vector3d right = camera.right(), up = camera.up(), back = right.cross(up);
    std::array<Eigen::Vector3d, 8> corners; // in the eye's axes, from the target
    double distance_m = nearest_m;
    // Each corner asks for a distance of its own; the largest serves all.
    for (std::size_t k = 0; k < 8; ++k) {
        const Eigen::Vector3d corner{k & 1 ? box.high.x() : box.low.x(), k & 2 ? box.high.y() : box.low.y(),
                                     k & 4 ? box.high.z() : box.low.z()};
        const Eigen::Vector3d offset = corner - camera.target;
        corners[k] = {offset.dot(right), offset.dot(up), offset.dot(back)};
        const double sideways = std::max(std::abs(corners[k].x()) / tan_h, std::abs(corners[k].y()) / tan_v);
        distance_m = std::max(distance_m, margin * sideways + corners[k].z());
    }
    camera.distance_m = std::min(distance_m, farthest_m);
    if (frame.covered.empty())
        return;

    const double focal_px = 0.5 * frame.height_px / tan_v;
    const std::vector<Eigen::Vector2d> tried = shifts(aspect);
    for (double times = 1; times < farthest && times * distance_m <= farthest_m; times *= farther) {
        Corners seen;
        for (std::size_t k = 0; k < 8; ++k)
            seen[k] = Eigen::Vector2d(corners[k].x(), -corners[k].y()) *
                      (margin * focal_px / (times * distance_m - corners[k].z()));
        const Outline shape = outline(seen);
        for (const Eigen::Vector2d& shift : tried)
            if (const Eigen::Vector2d target{0.5 * frame.width_px + shift.x() * frame.height_px,
                                             (0.5 - shift.y()) * frame.height_px};
                clear(shape, target, frame)) {
                camera.distance_m = times * distance_m;
                camera.shift = shift;
                return;
            }
    }
}

} // namespace holdtrue::app::scene
