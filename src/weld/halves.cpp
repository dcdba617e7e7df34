#include "weld/halves.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <numeric>

namespace holdtrue::weld {

namespace {

std::vector<double> node_volumes(const part::Mesh& mesh) {
    std::vector<double> volume(mesh.position_m.size());
    for (const part::PanelGrid& grid : mesh.panels)
        for (int cell = grid.first_cell; cell < grid.first_cell + grid.cells_u() * grid.cells_v(); ++cell) {
            if (!mesh.cell_alive[static_cast<std::size_t>(cell)])
                continue;
            const auto& nodes = mesh.cell_nodes[static_cast<std::size_t>(cell)];
            const auto at = [&](std::size_t k) { return mesh.position_m[static_cast<std::size_t>(nodes[k])]; };
            const double quarter = 0.125 * (at(2) - at(0)).cross(at(3) - at(1)).norm() * grid.thickness_m;
            for (const int node : nodes)
                volume[static_cast<std::size_t>(node)] += quarter;
        }
    return volume;
}

} // namespace

Halves::Halves(const part::Mesh& mesh) {
    const std::vector<double> volume = node_volumes(mesh);
    const double all = std::reduce(volume.begin(), volume.end());
    part::Point middle = part::Point::Zero();
    for (std::size_t n = 0; n < volume.size(); ++n)
        middle += volume[n] / all * mesh.position_m[n];
    for (int axis = 0; axis < 3; ++axis) {
        double above = 0, below = 0;
        for (std::size_t n = 0; n < volume.size(); ++n) {
            const double offset = mesh.position_m[n][axis] - middle[axis];
            above += offset > 1e-6 ? volume[n] : 0;
            below += offset < -1e-6 ? volume[n] : 0;
        }
        std::vector<double>& weight = weight_[static_cast<std::size_t>(axis)];
        weight.assign(volume.size(), 0);
        if (std::min(above, below) <= 0.2 * all)
            continue;
        for (std::size_t n = 0; n < volume.size(); ++n) {
            const double offset = mesh.position_m[n][axis] - middle[axis];
            weight[n] = offset > 1e-6 ? volume[n] / above : offset < -1e-6 ? -volume[n] / below : 0;
        }
    }
}

std::array<double, 3> Halves::difference_k(std::span<const double> temperature_k) const {
    std::array<double, 3> difference{};
    for (std::size_t axis = 0; axis < 3; ++axis)
        for (std::size_t n = 0; n < temperature_k.size(); ++n)
            difference[axis] += weight_[axis][n] * temperature_k[n];
    return difference;
}

} // namespace holdtrue::weld
