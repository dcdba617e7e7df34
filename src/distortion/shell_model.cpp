#include "distortion/shell_model.h"

namespace holdtrue::distortion {

ShellModel::ShellModel(const ShellMesh& mesh)
    : node_count_(static_cast<int>(mesh.node_m.size())), elastic_(mesh.elastic), quads_(mesh.quad) {
    elements_.reserve(quads_.size());
    for (std::size_t e = 0; e < quads_.size(); ++e) {
        Corners corners;
        for (std::size_t k = 0; k < 4; ++k)
            corners[k] = mesh.node_m[static_cast<std::size_t>(quads_[e][k])];
        elements_.emplace_back(corners, mesh.thickness_m[e], mesh.elastic);
    }
}

SparseMatrix ShellModel::stiffness(std::span<const char> fixed) const {
    std::vector<Eigen::Triplet<double, int>> entries;
    entries.reserve(elements_.size() * 576 + static_cast<std::size_t>(unknown_count()));
    std::vector<char> touched(static_cast<std::size_t>(unknown_count()), 0);
    const auto is_fixed = [&](int unknown) { return !fixed.empty() && fixed[static_cast<std::size_t>(unknown)] != 0; };
    double largest = 0;
    for (std::size_t e = 0; e < elements_.size(); ++e) {
        const ElementMatrix& k = elements_[e].stiffness();
        largest = std::max(largest, k.diagonal().maxCoeff());
        for (int i = 0; i < 24; ++i) {
            const int row = 6 * quads_[e][static_cast<std::size_t>(i / 6)] + i % 6;
            if (is_fixed(row))
                continue;
            touched[static_cast<std::size_t>(row)] = 1;
            for (int j = 0; j < 24; ++j) {
                const int column = 6 * quads_[e][static_cast<std::size_t>(j / 6)] + j % 6;
                if (!is_fixed(column))
                    entries.emplace_back(row, column, k(i, j));
            }
        }
    }
    for (int i = 0; i < unknown_count(); ++i)
        if (!touched[static_cast<std::size_t>(i)])
            entries.emplace_back(i, i, largest);
    SparseMatrix matrix(unknown_count(), unknown_count());
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
}

ElementVector ShellModel::gather(int element, const Eigen::VectorXd& displacement) const {
    ElementVector local;
    for (int k = 0; k < 4; ++k)
        local.segment<6>(6 * k) = displacement.segment<6>(6 * nodes_of(element)[static_cast<std::size_t>(k)]);
    return local;
}

void ShellModel::scatter(int element, const ElementVector& forces, Eigen::VectorXd& load) const {
    for (int k = 0; k < 4; ++k)
        load.segment<6>(6 * nodes_of(element)[static_cast<std::size_t>(k)]) += forces.segment<6>(6 * k);
}

Eigen::VectorXd ShellModel::internal_forces(const Eigen::VectorXd& displacement) const {
    Eigen::VectorXd forces = Eigen::VectorXd::Zero(unknown_count());
    for (int e = 0; e < element_count(); ++e)
        scatter(e, element(e).stiffness() * gather(e, displacement), forces);
    return forces;
}

Resultants held_by(const Elastic& elastic, double thickness_m, const Resultants& free) {
    const Eigen::Matrix3d d = membrane_stiffness(elastic, thickness_m);
    return {d * free.membrane, d * free.bending * (thickness_m * thickness_m / 12)};
}

} // namespace holdtrue::distortion
