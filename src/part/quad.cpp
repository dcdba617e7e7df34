#include "part/quad.h"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace holdtrue::part {
namespace {

double nearest_on_segment(const Point& a, const Point& b, const Point& point) {
    const double length2 = (b - a).squaredNorm();
    return length2 > 0 ? std::clamp((point - a).dot(b - a) / length2, 0.0, 1.0) : 0.0;
}

QuadPlace place_at(const Quad& quad, double xi, double eta, const Point& point) {
    QuadPlace place{xi, eta, quad_point(quad, xi, eta), 0};
    place.distance_m = (point - place.position).norm();
    return place;
}

} // namespace

std::array<double, 4> quad_weights(double xi, double eta) {
    return {(1 - xi) * (1 - eta), xi * (1 - eta), xi * eta, (1 - xi) * eta};
}

Point quad_point(const Quad& quad, double xi, double eta) {
    const std::array<double, 4> weight = quad_weights(xi, eta);
    return weight[0] * quad[0] + weight[1] * quad[1] + weight[2] * quad[2] + weight[3] * quad[3];
}

QuadPlace nearest_on_quad(const Quad& quad, const Point& point) {
    // Gauss-Newton for the foot of the perpendicular; exact in one step on a parallelogram.
    double xi = 0.5, eta = 0.5;
    bool inside = false;
    for (int step = 0; step < 20; ++step) {
        const Point residual = point - quad_point(quad, xi, eta);
        Eigen::Matrix<double, 3, 2> jacobian;
        jacobian.col(0) = (1 - eta) * (quad[1] - quad[0]) + eta * (quad[2] - quad[3]);
        jacobian.col(1) = (1 - xi) * (quad[3] - quad[0]) + xi * (quad[2] - quad[1]);
        const Eigen::Matrix2d normal = jacobian.transpose() * jacobian;
        if (normal.determinant() <= 1e-20 * normal.trace() * normal.trace())
            break;
        const Eigen::Vector2d change = normal.inverse() * (jacobian.transpose() * residual);
        xi += change[0];
        eta += change[1];
        if (std::abs(xi - 0.5) > 10 || std::abs(eta - 0.5) > 10)
            break;
        if (change.norm() < 1e-13) {
            inside = xi >= 0 && xi <= 1 && eta >= 0 && eta <= 1;
            break;
        }
    }
    if (inside)
        return place_at(quad, xi, eta, point);

    // The foot lies outside: the nearest place is on one of the edges.
    const double bottom = nearest_on_segment(quad[0], quad[1], point);
    const double right = nearest_on_segment(quad[1], quad[2], point);
    const double top = nearest_on_segment(quad[3], quad[2], point);
    const double left = nearest_on_segment(quad[0], quad[3], point);
    const std::array<QuadPlace, 4> edges{place_at(quad, bottom, 0, point), place_at(quad, 1, right, point),
                                         place_at(quad, top, 1, point), place_at(quad, 0, left, point)};
    return *std::ranges::min_element(edges, {}, &QuadPlace::distance_m);
}

} // namespace holdtrue::part
