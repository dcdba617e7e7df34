#include "ccx_sheet_brick.h"

#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion::testing {

namespace {

using Natural = Eigen::RowVector3d; // xi, eta, zeta
using Places = CcxSheetBrick::Places;

constexpr int all_modes = CcxSheetBrick::mode_count + CcxSheetBrick::normal_mode_count;

const std::array<Natural, 8> corners{Natural(-1, -1, -1), Natural(1, -1, -1), Natural(1, 1, -1), Natural(-1, 1, -1),
                                     Natural(-1, -1, 1),  Natural(1, -1, 1),  Natural(1, 1, 1),  Natural(-1, 1, 1)};
// Of a C3D20R, from its ninth node on: the corners that each of them is midway between.
constexpr std::array<std::array<std::size_t, 2>, 12> edges{
    {{0, 1}, {1, 2}, {2, 3}, {3, 0}, {4, 5}, {5, 6}, {6, 7}, {7, 4}, {0, 4}, {1, 5}, {2, 6}, {3, 7}}};

Eigen::Matrix<double, 1, 8> shape(const Natural& at) {
    Eigen::Matrix<double, 1, 8> n;
    for (std::size_t k = 0; k < 8; ++k)
        n[static_cast<Eigen::Index>(k)] = (1 + corners[k].array() * at.array()).prod() / 8;
    return n;
}

// Rows d(x, y, z) / d xi, / d eta, / d zeta.
Eigen::Matrix3d jacobian(const Places& corner_m, const Natural& at) {
    Eigen::Matrix<double, 3, 8> slope;
    for (std::size_t k = 0; k < 8; ++k) {
        const Natural one = 1 + corners[k].array() * at.array();
        slope.col(static_cast<Eigen::Index>(k)) =
            Eigen::Vector3d(corners[k][0] * one[1] * one[2], corners[k][1] * one[0] * one[2],
                            corners[k][2] * one[0] * one[1]) /
            8;
    }
    return slope * corner_m;
}

Eigen::Matrix<double, 1, all_modes> modes(const Natural& at) {
    const double xi = at[0], eta = at[1], zeta = at[2];
    return {1 - xi * xi, 1 - eta * eta, 1 - zeta * zeta, (1 - xi * xi) * eta, (1 - eta * eta) * xi};
}

// By the natural coordinates; a column a mode.
Eigen::Matrix<double, 3, all_modes> mode_slopes(const Natural& at) {
    const double xi = at[0], eta = at[1], zeta = at[2];
    Eigen::Matrix<double, 3, all_modes> slopes;
    slopes << -2 * xi, 0, 0, -2 * xi * eta, 1 - eta * eta, //
        0, -2 * eta, 0, 1 - xi * xi, -2 * eta * xi,        //
        0, 0, -2 * zeta, 0, 0;
    return slopes;
}

// Two by two by two, all of weight 1.
std::array<Natural, 8> gauss_points() {
    std::array<Natural, 8> points = corners;
    for (Natural& point : points)
        point /= std::sqrt(3.0);
    return points;
}

} // namespace

double CcxSheetBrick::skew(const Places& corner_m) {
    const double middle = jacobian(corner_m, Natural::Zero()).determinant();
    double most = 0;
    for (const Natural& at : gauss_points())
        most = std::max(most, std::abs(jacobian(corner_m, at).determinant() / middle - 1));
    return most;
}

CcxSheetBrick::CcxSheetBrick(const Places& corner_m) {
    Eigen::Matrix<double, 3, all_modes> mean_slope = Eigen::Matrix<double, 3, all_modes>::Zero();
    double volume_m3 = 0;
    for (const Natural& at : gauss_points()) {
        const Eigen::Matrix3d map = jacobian(corner_m, at);
        mean_slope += map.determinant() * map.inverse() * mode_slopes(at);
        volume_m3 += map.determinant();
    }
    mean_slope /= volume_m3;
    const Eigen::RowVector3d middle = corner_m.colwise().mean();
    for (std::size_t i = 0; i < node_count; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        const Natural at = i < 8 ? corners[i] : Natural(0.5 * (corners[edges[i - 8][0]] + corners[edges[i - 8][1]]));
        of_corner.row(row) = shape(at);
        place_m.row(row) = of_corner.row(row) * corner_m;
        const Eigen::Matrix<double, 1, all_modes> own = modes(at) - (place_m.row(row) - middle) * mean_slope;
        of_mode.row(row) = own.head<mode_count>();
        of_normal_mode.row(row) = own.tail<normal_mode_count>();
    }
}

} // namespace holdtrue::distortion::testing
