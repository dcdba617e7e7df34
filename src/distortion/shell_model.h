// A mesh of flat shell elements: its stiffness, its loads and the stresses in it. Six unknowns per node, in the order
// u, v, w [m], then the rotations about x, y, z [rad], global axes; unknown k of node n is 6 n + k.
#pragma once

#include "distortion/shell_element.h"
#include "distortion/sparse_factor.h"

#include <span>
#include <vector>

namespace holdtrue::distortion {

struct ShellMesh {
    std::vector<Eigen::Vector3d> node_m;
    std::vector<std::array<int, 4>> quad; // node indices, in order round the element
    std::vector<double> thickness_m;      // of each quad
    Elastic elastic;
};

class ShellModel {
public:
    explicit ShellModel(const ShellMesh& mesh);

    int node_count() const { return node_count_; }
    int unknown_count() const { return 6 * node_count_; }
    int element_count() const { return static_cast<int>(elements_.size()); }
    const ShellElement& element(int index) const { return elements_[static_cast<std::size_t>(index)]; }
    const std::array<int, 4>& nodes_of(int index) const { return quads_[static_cast<std::size_t>(index)]; }
    const Elastic& elastic() const { return elastic_; }

    // The whole symmetric matrix. `ground_n_per_m` is added to every diagonal entry of a node's translations, and
    // times the element size squared to its rotations; unknowns that no element touches get 1.
    // `fixed` (unknown_count, or empty) names unknowns held at zero: their rows and columns are replaced by a diagonal.
    SparseMatrix stiffness(std::span<const char> fixed = {}) const;

    ElementVector gather(int element, const Eigen::VectorXd& displacement) const;
    void scatter(int element, const ElementVector& forces, Eigen::VectorXd& load) const;
    // Forces that the elements exert against a displacement, K u, computed element by element.
    Eigen::VectorXd internal_forces(const Eigen::VectorXd& displacement) const;

private:
    int node_count_;
    Elastic elastic_;
    std::vector<std::array<int, 4>> quads_;
    std::vector<ShellElement> elements_;
};

// Resultants held back when an element may not take up a free strain: D (strain, curvature).
Resultants held_by(const Elastic& elastic, double thickness_m, const Resultants& free);

} // namespace holdtrue::distortion
