#include "distortion/sparse_factor.h"

#include "text/verify.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCholesky>

#include <cstdint>

namespace holdtrue::distortion {

namespace {

constexpr int block = 6;

// Where each unknown goes: minimum degree on the graph of nodes.
std::vector<int> ordering(const SparseMatrix& matrix) {
    const int nodes = static_cast<int>(matrix.cols()) / block;
    std::vector<Eigen::Triplet<double, int>> links;
    for (int node = 0; node < nodes; ++node) {
        int previous = -1;
        // The matrix is symmetric and assembled from dense blocks: one column speaks for the node, unless its
        // unknowns were decoupled by a support.
        for (int k = 0; k < block; ++k) {
            previous = -1;
            for (SparseMatrix::InnerIterator at(matrix, block * node + k); at; ++at) {
                const int other = static_cast<int>(at.row()) / block;
                if (other != previous)
                    links.emplace_back(other, node, 1.0);
                previous = other;
            }
        }
    }
    SparseMatrix graph(nodes, nodes);
    graph.setFromTriplets(links.begin(), links.end());
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
    Eigen::AMDOrdering<int>()(graph, order);
    std::vector<int> place(static_cast<std::size_t>(matrix.cols()));
    for (int i = 0; i < nodes; ++i)
        for (int k = 0; k < block; ++k)
            place[static_cast<std::size_t>(block * order.indices()[i] + k)] = block * i + k;
    return place;
}

template <int width>
void solve_block(const std::vector<int>& start, const std::vector<int>& row, const std::vector<double>& value,
                 const std::vector<double>& diagonal, double* x, int stride) {
    const int n = static_cast<int>(diagonal.size());
    using Row = Eigen::Map<Eigen::Array<double, 1, width>>;
    for (int j = 0; j < n; ++j) {
        const Eigen::Array<double, 1, width> pivot = Row(x + static_cast<std::int64_t>(j) * stride);
        for (int p = start[j]; p < start[j + 1]; ++p)
            Row(x + static_cast<std::int64_t>(row[p]) * stride) -= value[p] * pivot;
    }
    for (int j = n - 1; j >= 0; --j) {
        Eigen::Array<double, 1, width> sum = Row(x + static_cast<std::int64_t>(j) * stride) / diagonal[j];
        for (int p = start[j]; p < start[j + 1]; ++p)
            sum -= value[p] * Row(x + static_cast<std::int64_t>(row[p]) * stride);
        Row(x + static_cast<std::int64_t>(j) * stride) = sum;
    }
}

} // namespace

SparseFactor::SparseFactor(const SparseMatrix& matrix) {
    VERIFY(matrix.rows() == matrix.cols() && matrix.cols() % block == 0, "six unknowns per node");
    place_ = ordering(matrix);
    const int n = static_cast<int>(matrix.cols());
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> permutation(n);
    for (int i = 0; i < n; ++i)
        permutation.indices()[i] = place_[static_cast<std::size_t>(i)];
    SparseMatrix lower(n, n);
    lower.selfadjointView<Eigen::Lower>() = matrix.selfadjointView<Eigen::Lower>().twistedBy(permutation);

    const Eigen::SimplicialLDLT<SparseMatrix, Eigen::Lower, Eigen::NaturalOrdering<int>> factor(lower);
    const Eigen::VectorXd pivots = factor.vectorD();
    ok_ = factor.info() == Eigen::Success && pivots.minCoeff() > 0;
    if (!ok_)
        return;
    const SparseMatrix& l = factor.matrixL().nestedExpression();
    diagonal_.assign(pivots.data(), pivots.data() + n);
    start_.reserve(static_cast<std::size_t>(n) + 1);
    row_.reserve(static_cast<std::size_t>(l.nonZeros()));
    value_.reserve(static_cast<std::size_t>(l.nonZeros()));
    for (int j = 0; j < n; ++j) {
        start_.push_back(static_cast<int>(row_.size()));
        for (SparseMatrix::InnerIterator at(l, j); at; ++at) {
            if (at.row() == j)
                continue;
            row_.push_back(static_cast<int>(at.row()));
            value_.push_back(at.value());
        }
    }
    start_.push_back(static_cast<int>(row_.size()));
}

Eigen::VectorXd SparseFactor::solve(const Eigen::VectorXd& load) const {
    Columns one = load;
    solve_in_place(one);
    return one.col(0);
}

void SparseFactor::solve_in_place(Columns& loads) const {
    VERIFY(ok_ && loads.rows() == size(), "solve without a factor of this size");
    // Sixteen columns at a time: enough to stream the factor seldom, few enough to keep a front in cache.
    constexpr int width = 16;
    const int n = size();
    const int count = static_cast<int>(loads.cols());
    for (int first = 0; first < count; first += width) {
        const int used = std::min(width, count - first);
        const int padded = used == 1 ? 1 : width;
        Columns part = Columns::Zero(n, padded);
        for (int i = 0; i < n; ++i)
            part.row(place_[i]).head(used) = loads.row(i).segment(first, used);
        if (padded == 1)
            solve_block<1>(start_, row_, value_, diagonal_, part.data(), 1);
        else
            solve_block<width>(start_, row_, value_, diagonal_, part.data(), width);
        for (int i = 0; i < n; ++i)
            loads.row(i).segment(first, used) = part.row(place_[i]).head(used);
    }
}

} // namespace holdtrue::distortion
