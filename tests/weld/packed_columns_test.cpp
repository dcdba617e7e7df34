// Sums of packed columns against Eigen's sums of the same columns.
#include "weld/packed_columns.h"

#include <doctest/doctest.h>

using namespace holdtrue::weld;

TEST_CASE("packed columns add up to what the columns add up to, within the rounding that is stated") {
    std::vector<Eigen::MatrixXf> matrices{Eigen::MatrixXf::Random(40, 5), Eigen::MatrixXf(40, 0),
                                          1e-3f * Eigen::MatrixXf::Random(40, 3)};
    for (Eigen::MatrixXf& matrix : matrices) {
        matrix.topRows(20) *= 1e6f; // such as enthalpies above displacements
        matrix.row(7).setZero();
    }
    matrices[2].col(1).setZero();
    const PackedColumns packed(matrices);
    const std::vector<PackedColumns::Term> terms{{0, 4, 0.25f}, {2, 0, -1.5f}, {0, 0, 3.f}, {2, 1, 9.f}};
    Eigen::VectorXf wanted = Eigen::VectorXf::Zero(40), rounding = wanted, largest = wanted;
    for (const Eigen::MatrixXf& matrix : matrices)
        for (const auto& column : matrix.colwise())
            largest = largest.cwiseMax(column.cwiseAbs());
    for (const PackedColumns::Term& term : terms) {
        const Eigen::VectorXf column = matrices[static_cast<std::size_t>(term.matrix)].col(term.column);
        wanted += term.factor * column;
        const Eigen::ArrayXf shares = column.array() / largest.array().max(1e-30f);
        rounding += std::abs(term.factor) * 1.6e-5f * shares.abs().maxCoeff() * largest;
    }
    PackedColumns::Scratch scratch;
    const Eigen::VectorXf& sum = packed.sum(terms, 0, 40, scratch);
    CHECK(((sum - wanted).array().abs() <= rounding.array() + 1e-5f * wanted.array().abs()).all());
    CHECK(sum[7] == 0);
    CHECK((sum - wanted).norm() > 0); // rounded it is

    const Eigen::VectorXf whole = sum;
    CHECK(packed.sum(terms, 11, 20, scratch) == whole.segment(11, 20));
    CHECK(packed.sum({}, 0, 40, scratch).isZero());
}
