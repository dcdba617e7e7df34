#include "distortion/linear_row.h"

#include <Eigen/Geometry>

namespace holdtrue::distortion {

void LinearRow::add_displacement(const part::Attachment& place, const part::Point& point, const part::Point& direction,
                                 double scale) {
    const part::Point offset = point - place.position;
    const part::Point moment = offset.cross(direction);
    for (std::size_t k = 0; k < 4; ++k) {
        const double weight = scale * place.weight[k];
        if (weight == 0)
            continue;
        for (int axis = 0; axis < 3; ++axis) {
            unknown.emplace_back(6 * place.node[k] + axis, weight * direction[axis]);
            unknown.emplace_back(6 * place.node[k] + 3 + axis, weight * moment[axis]);
        }
        thermal.emplace_back(place.node[k], weight * offset.dot(direction));
    }
}

void LinearRow::add_rotation(const part::Attachment& place, const part::Point& axis, double scale) {
    for (std::size_t k = 0; k < 4; ++k)
        if (place.weight[k] != 0)
            for (int i = 0; i < 3; ++i)
                unknown.emplace_back(6 * place.node[k] + 3 + i, scale * place.weight[k] * axis[i]);
}

LinearRows assemble(const std::vector<LinearRow>& rows, int node_count) {
    std::vector<Eigen::Triplet<double, int>> unknowns, strains;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        for (const auto& [index, coefficient] : rows[r].unknown)
            unknowns.emplace_back(static_cast<int>(r), index, coefficient);
        for (const auto& [index, coefficient] : rows[r].thermal)
            strains.emplace_back(static_cast<int>(r), index, coefficient);
    }
    LinearRows matrices;
    matrices.of_unknowns.resize(static_cast<int>(rows.size()), 6 * node_count);
    matrices.of_unknowns.setFromTriplets(unknowns.begin(), unknowns.end());
    matrices.of_strains.resize(static_cast<int>(rows.size()), node_count);
    matrices.of_strains.setFromTriplets(strains.begin(), strains.end());
    return matrices;
}

} // namespace holdtrue::distortion
