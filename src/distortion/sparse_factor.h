// Factor L D L^T of a sparse symmetric positive definite matrix with six unknowns per node, and solutions with it.
//
// Minimum-degree ordering of the node graph, then a simplicial factorisation. For panels of welded parts (long strips
// of 10^3 to 10^4 nodes) that was quicker than CHOLMOD's supernodes with the BLAS that Debian installs by default;
// tests/bench prints both. Results do not depend on how many right-hand sides are solved together.
#pragma once

#include <Eigen/SparseCore>

#include <vector>

namespace holdtrue::distortion {

using SparseMatrix = Eigen::SparseMatrix<double>;
// One row per unknown, one column per right-hand side; rows lie together in memory.
using Columns = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;

class SparseFactor {
public:
    SparseFactor() = default;
    // The whole symmetric matrix, unknowns 6 n .. 6 n + 5 belonging to node n. A pivot that is not positive (a part
    // that is not held) is a bug of the caller: nothing here depends on a person's input.
    explicit SparseFactor(const SparseMatrix& matrix);

    Eigen::VectorXd solve(const Eigen::VectorXd& load) const;
    void solve_in_place(Columns& loads) const;

    int size() const { return static_cast<int>(diagonal_.size()); }
    std::size_t nonzeros() const { return value_.size(); }
    bool ok() const { return ok_; } // false: the matrix was not positive definite

private:
    bool ok_ = false;
    std::vector<int> place_; // of unknown i in the factor's order
    std::vector<int> start_; // of each column below the diagonal
    std::vector<int> row_;   // of each entry
    std::vector<double> value_, diagonal_;
};

} // namespace holdtrue::distortion
