// Rows held for good, as a Cholesky factor that grows (Golub & Van Loan, Matrix Computations, 4.2, by rows):
//   L L^T = C_HH + 1/k
// with C and R of condensed_part.h and H the rows in the order in which they were tied. Of every row w that has a
// spring or reads a strain its line L^-1 C_Hw is kept, and of every motion k the line L^-1 R_Hk. The line of a row that comes to be tied
// is its row of L: a tie costs a product with each line that still grows, the square of the rows.
#pragma once

#include "distortion/condensed_part.h"
#include "distortion/dense_kernel.h"

#include <span>

namespace holdtrue::distortion {

class HeadFactor {
public:
    explicit HeadFactor(const CondensedPart& part); // must outlive it

    int size() const { return static_cast<int>(rows_.size()); }
    std::span<const int> rows() const { return rows_; }

    void add(std::span<const int> rows);
    void forget(int row); // it will never be held: its line is given up

    bool has_line(int row) const { return has_line_[static_cast<std::size_t>(row)] != 0; }
    // size() numbers each.
    const double* line(int row) const { return lines_.data() + place_[static_cast<std::size_t>(row)]; }
    const double* motion_line(int motion) const { return lines_.data() + motion_place(motion); }

    // Goes on, from where the line ends, with L^-1 (of_rows - offset)_H.
    void extend(std::vector<double>& line, const Eigen::VectorXd& of_rows) const;
    void extend(std::vector<double>& line, const Eigen::VectorXd& of_rows, const Eigen::VectorXd& offset) const;
    // L^-T line, in place.
    void solve_transposed(std::vector<double>& line) const;

private:
    double* own_line(int row) { return lines_.data() + place_[static_cast<std::size_t>(row)]; }
    std::size_t motion_place(int motion) const {
        return motions_place_ + static_cast<std::size_t>(motion) * stride_;
    }
    void add_pivots(std::span<const int> rows);
    template <class ValueOf>
    void go_on(std::vector<double>& line, const ValueOf& value_of) const;

    const CondensedPart& part_;
    const PartModel& model_;
    const DenseKernel& kernel_;
    std::vector<int> rows_;
    std::vector<int> growing_;       // rows whose lines grow
    std::vector<char> has_line_;     // row_count
    std::vector<std::size_t> place_; // of each row that has a line, in lines_
    std::size_t stride_ = 0, motions_place_ = 0;
    std::vector<double> lines_;

    std::vector<const double*> of_lines_, of_rows_; // scratch of add()
    std::vector<double> products_;
};

} // namespace holdtrue::distortion
