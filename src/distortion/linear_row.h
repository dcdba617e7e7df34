// A measure of the deformed part that is linear in its unknowns u and in the thermal strains e of its nodes:
//   value = sum coefficient_i u_i + sum thermal_n e_n
// The second sum is there because rigid offsets, by which a weld stands off the mid-surfaces, grow with the metal.
#pragma once

#include "distortion/grip.h"

#include <Eigen/SparseCore>

#include <utility>
#include <vector>

namespace holdtrue::distortion {

struct LinearRow {
    std::vector<std::pair<int, double>> unknown; // (unknown 6 n + k, coefficient)
    std::vector<std::pair<int, double>> thermal; // (node, coefficient)

    // Adds scale times the displacement along `direction` of a point beside the sheet.
    void add_displacement(const Grip& grip, const part::Point& point, const part::Point& direction, double scale);
    // Adds scale times the rotation of the sheet about `axis`.
    void add_rotation(const Grip& grip, const part::Point& axis, double scale);
};

// Rows against unknowns, and against nodes' thermal strains.
struct LinearRows {
    Eigen::SparseMatrix<double, Eigen::RowMajor> of_unknowns, of_strains;
};
LinearRows assemble(const std::vector<LinearRow>& rows, int node_count);

} // namespace holdtrue::distortion
