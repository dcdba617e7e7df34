#include "distortion/linear_row.h"

#include <Eigen/Geometry>

namespace holdtrue::distortion {

void LinearRow::add_displacement(const Grip& grip, const part::Point& point, const part::Point& direction,
                                 double scale) {
    const part::Point square = grip.normal.dot(direction) * grip.normal, in_sheet = direction - square;
    const part::Point from_slide = point - grip.slide.position, from_bend = point - grip.bend.position;
    const part::Point moment = grip.normal.dot(from_slide) * grip.normal.cross(in_sheet) + from_bend.cross(square);
    for (std::size_t k = 0; k < 4; ++k) {
        const double slides = scale * (grip.slide.weight[k] + grip.gradient[k].dot(from_slide));
        const double rides = scale * grip.bend.weight[k];
        for (int axis = 0; axis < 3; ++axis) {
            unknown.emplace_back(6 * grip.slide.node[k] + axis, slides * in_sheet[axis]);
            unknown.emplace_back(6 * grip.bend.node[k] + axis, rides * square[axis]);
            unknown.emplace_back(6 * grip.bend.node[k] + 3 + axis, rides * moment[axis]);
        }
        thermal.emplace_back(grip.bend.node[k], rides * from_bend.dot(square));
    }
}

void LinearRow::add_rotation(const Grip& grip, const part::Point& axis, double scale) {
    const double about_normal = grip.normal.dot(axis);
    const part::Point in_sheet = axis - about_normal * grip.normal;
    for (std::size_t k = 0; k < 4; ++k) {
        const part::Point curl = 0.5 * about_normal * grip.normal.cross(grip.gradient[k]);
        for (int i = 0; i < 3; ++i) {
            unknown.emplace_back(6 * grip.slide.node[k] + i, scale * curl[i]);
            unknown.emplace_back(6 * grip.bend.node[k] + 3 + i, scale * grip.bend.weight[k] * in_sheet[i]);
        }
    }
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
