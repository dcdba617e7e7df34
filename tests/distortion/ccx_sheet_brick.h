// A brick that is pulled and bent as a sheet is. A C3D8I of ccx has three faults beside a weld, where forces are
// concentrated and cells of the mesh are few:
// - A cell that is no parallelogram, as about a hole, fails the patch test: its incompatible modes are taken with the
//   Jacobian of the middle only (Wilson et al. 1973, without the correction of Taylor, Beresford and Wilson 1976). Four
//   skewed ones under a plain pull have stresses of 0.93 to 1.07 of the right one.
// - Neighbours must thin alike at their nodes, so that steel is too stiff where strains in the plane vary.
// - Where the slope of a sheet varies along both sides of a cell, it is sheared across, and so too stiff.
//
// Here a C3D20R stands for it whose twenty nodes are its own. Equations make them move as eight corners shared with the
// neighbours do, and by modes that nobody shares, each less the linear field that has its mean strain (Wilson and
// Ibrahimbegovic 1990):
//   1 - xi^2, 1 - eta^2, 1 - zeta^2   along every axis, those of C3D8I
//   (1 - xi^2) eta, (1 - eta^2) xi    square to the sheet
// and the steel has no Poisson's ratio across the sheet. So a skewed patch is pulled without error, and bent with one
// of 0.02 % of its stress (C3D8I 1.5 %). Natural coordinates are those of C3D8, zeta through the sheet. Sources from
// memory.
#pragma once

#include <Eigen/Core>

#include <array>

namespace holdtrue::distortion::testing {

struct CcxSheetBrick {
    static constexpr int node_count = 20, mode_count = 3, normal_mode_count = 2;
    using Places = Eigen::Matrix<double, 8, 3>;

    explicit CcxSheetBrick(const Places& corner_m);

    // Largest share by which the Jacobian strays from that of the middle; a parallelogram has 0.
    static double skew(const Places& corner_m);

    Eigen::Matrix<double, node_count, 3> place_m;
    // Node i moves by of_corner u + of_mode a + normal of_normal_mode b.
    Eigen::Matrix<double, node_count, 8> of_corner;
    Eigen::Matrix<double, node_count, mode_count> of_mode;
    Eigen::Matrix<double, node_count, normal_mode_count> of_normal_mode;
};

} // namespace holdtrue::distortion::testing
