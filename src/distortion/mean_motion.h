// The rigid motion that fits the displacements of some weighted nodes best:
//   mean shift = sum w u / sum w       mean turn = (sum w r x (. x r))^-1 sum w r x u,     r from the nodes' middle
#pragma once

#include "distortion/linear_row.h"

namespace holdtrue::distortion {

using WeightedNodes = std::vector<std::pair<int, double>>; // (node, weight > 0); the nodes must not lie on one line

struct MeanMotion {
    std::array<LinearRow, 6> rows; // shifts along x, y, z [m], turns about them [rad]
    part::Point middle = part::Point::Zero();
    double square_arm_m2 = 0; // mean square distance from the middle

    LinearRow at(const part::Point& point, int axis) const; // displacement of a point that rides on the motion
};

MeanMotion mean_motion(const part::Mesh& mesh, const WeightedNodes& nodes);

} // namespace holdtrue::distortion
