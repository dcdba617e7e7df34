// Matrices with rows in common whose columns are summed, each with a factor of its own, again and again:
//   sum_i = sum over terms of factor * matrix(i, column)
// Numbers take 16 bits, since such sums wait for memory: unit of the row * unit of the column * a whole number. The
// unit of a row is its largest number. A number is rounded by at most 1.6e-5 of that, times the largest that its column
// has in units of the rows (at most 1).
#pragma once

#include <Eigen/Core>

#include <cstdint>
#include <span>
#include <vector>

namespace holdtrue::weld {

class PackedColumns {
public:
    PackedColumns() = default;
    // All of as many rows; columns may be none.
    explicit PackedColumns(std::span<const Eigen::MatrixXf> matrices);

    struct Term {
        int matrix, column;
        float factor;
    };
    struct Scratch {
        std::vector<const std::int16_t*> columns;
        std::vector<float> factors;
        Eigen::VectorXf sum;
    };
    // `count` rows of the sum from `first`; valid until the scratch is used again.
    const Eigen::VectorXf& sum(std::span<const Term> terms, int first, int count, Scratch& scratch) const;
    std::size_t bytes() const { return sizeof(std::int16_t) * static_cast<std::size_t>(numbers_.size()); }

private:
    std::vector<Eigen::Index> first_column_; // of every matrix, and behind the last
    Eigen::Matrix<std::int16_t, Eigen::Dynamic, Eigen::Dynamic> numbers_;
    Eigen::VectorXf row_unit_, column_unit_;
};

} // namespace holdtrue::weld
