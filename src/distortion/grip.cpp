#include "distortion/grip.h"

#include <Eigen/Dense>

namespace holdtrue::distortion {

Grip grip(const part::Mesh& mesh, const part::Attachment& bend, const part::Attachment& slide) {
    // Slopes of the weights (1 - xi)(1 - eta), xi (1 - eta), xi eta, (1 - xi) eta.
    const double xi = slide.weight[1] + slide.weight[2], eta = slide.weight[2] + slide.weight[3];
    Eigen::Matrix<double, 4, 2> slope;
    slope.col(0) << eta - 1, 1 - eta, eta, -eta;
    slope.col(1) << xi - 1, -xi, xi, 1 - xi;
    Eigen::Matrix<double, 3, 2> along = Eigen::Matrix<double, 3, 2>::Zero();
    for (int k = 0; k < 4; ++k)
        along += mesh.position_m[static_cast<std::size_t>(slide.node[static_cast<std::size_t>(k)])] * slope.row(k);

    Grip grip{bend, slide, along.col(0).cross(along.col(1)).normalized(), {}};
    const Eigen::Matrix<double, 3, 4> gradient = along * (along.transpose() * along).inverse() * slope.transpose();
    for (int k = 0; k < 4; ++k)
        grip.gradient[static_cast<std::size_t>(k)] = gradient.col(k);
    return grip;
}

Grip grip(const part::Mesh& mesh, int panel, const part::Point& point) {
    const part::Attachment place = part::attach(mesh, panel, point);
    return grip(mesh, place, place);
}

} // namespace holdtrue::distortion
