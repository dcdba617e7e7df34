#include "weld/packed_columns.h"

#include "distortion/dense_kernel.h"

#include <cmath>
#include <limits>

namespace holdtrue::weld {

PackedColumns::PackedColumns(std::span<const Eigen::MatrixXf> matrices) : first_column_{0} {
    const Eigen::Index rows = matrices.empty() ? 0 : matrices.front().rows();
    row_unit_ = Eigen::VectorXf::Zero(rows);
    for (const Eigen::MatrixXf& matrix : matrices) {
        first_column_.push_back(first_column_.back() + matrix.cols());
        for (const auto& column : matrix.colwise())
            row_unit_ = row_unit_.cwiseMax(column.cwiseAbs());
    }
    const auto or_one = [](float unit) { return unit > 0 ? unit : 1; };
    row_unit_ = row_unit_.unaryExpr(or_one);
    numbers_.resize(rows, first_column_.back());
    column_unit_.resize(first_column_.back());
    Eigen::Index k = 0;
    for (const Eigen::MatrixXf& matrix : matrices)
        for (const auto& column : matrix.colwise()) {
            const Eigen::VectorXf shares = column.cwiseQuotient(row_unit_);
            column_unit_[k] = or_one(shares.lpNorm<Eigen::Infinity>() / std::numeric_limits<std::int16_t>::max());
            for (Eigen::Index i = 0; i < rows; ++i)
                numbers_(i, k) = static_cast<std::int16_t>(std::lround(shares[i] / column_unit_[k]));
            ++k;
        }
}

const Eigen::VectorXf& PackedColumns::sum(std::span<const Term> terms, int first, int count, Scratch& scratch) const {
    scratch.columns.clear();
    scratch.factors.clear();
    for (const Term& term : terms) {
        const Eigen::Index k = first_column_[static_cast<std::size_t>(term.matrix)] + term.column;
        scratch.columns.push_back(numbers_.data() + k * numbers_.rows() + first);
        scratch.factors.push_back(term.factor * column_unit_[k]);
        distortion::ask_ahead(scratch.columns.back());
    }
    scratch.sum.setZero(count);
    distortion::best_dense_kernel().add_short_columns(scratch.sum.data(), scratch.factors.data(),
                                                      scratch.columns.data(), static_cast<int>(terms.size()), count);
    scratch.sum.array() *= row_unit_.segment(first, count).array();
    return scratch.sum;
}

} // namespace holdtrue::weld
