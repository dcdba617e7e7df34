#include "distortion/mean_motion.h"

#include <Eigen/Geometry>
#include <Eigen/LU>

namespace holdtrue::distortion {

using part::Point;

MeanMotion mean_motion(const part::Mesh& mesh, const WeightedNodes& nodes) {
    MeanMotion mean;
    double all = 0;
    for (const auto& [n, weight] : nodes) {
        mean.middle += weight * mesh.position_m[static_cast<std::size_t>(n)];
        all += weight;
    }
    mean.middle /= all;
    const auto arm = [&](int n) -> Point { return mesh.position_m[static_cast<std::size_t>(n)] - mean.middle; };
    Eigen::Matrix3d inertia = Eigen::Matrix3d::Zero();
    for (const auto& [n, weight] : nodes)
        inertia += weight * (arm(n).squaredNorm() * Eigen::Matrix3d::Identity() - arm(n) * arm(n).transpose());
    mean.square_arm_m2 = inertia.trace() / (2 * all);
    const Eigen::Matrix3d inverse = inertia.inverse();
    for (const auto& [n, weight] : nodes)
        for (int axis = 0; axis < 3; ++axis) {
            mean.rows[static_cast<std::size_t>(axis)].unknown.emplace_back(6 * n + axis, weight / all);
            const Point turn = inverse * (weight * arm(n).cross(Point::Unit(axis)));
            for (int about = 0; about < 3; ++about)
                mean.rows[static_cast<std::size_t>(3 + about)].unknown.emplace_back(6 * n + axis, turn[about]);
        }
    return mean;
}

LinearRow MeanMotion::at(const Point& point, int axis) const {
    LinearRow row = rows[static_cast<std::size_t>(axis)];
    const Point moment = (point - middle).cross(Point::Unit(axis)); // (turn x arm) . axis = turn . (arm x axis)
    for (int about = 0; about < 3; ++about)
        for (const auto& [unknown, coefficient] : rows[static_cast<std::size_t>(3 + about)].unknown)
            row.unknown.emplace_back(unknown, moment[about] * coefficient);
    return row;
}

} // namespace holdtrue::distortion
