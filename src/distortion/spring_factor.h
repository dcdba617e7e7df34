// The springs of a condensed part, factored. With ties and other springs of stiffness k on rows of value v, the forces
// s = k (v - offset) and the motions a of the panels follow from (condensed_part.h for C and R)
//   [C + 1/k   -R    ] [s]   [free - offset]
//   [-R^T      -ground] [a] = [0            ]
// Rows held for good are the head (head_factor.h); rows that will be let go (contacts, clamps, tacks that are
// remelted, the fixture) are its tail. A row added to the head takes part of the tail's flexibility away and a row that
// leaves the tail gives some back: both by plane rotations (Golub & Van Loan, Matrix Computations, 6.5; downdate as
// LINPACK's dchdd), so that no change costs more than the square of the rows.
//   head   L L^T = C_HH + 1/k         Z_w = L^-1 C_Hw        S = L^-1 R_H
//   tail   T T^T = C_TT + 1/k - Z_T^T Z_T                     Q = T^-1 (R_T - Z_T^T S)
#pragma once

#include "distortion/head_factor.h"

#include <Eigen/Cholesky>

namespace holdtrue::distortion {

class SpringFactor {
public:
    explicit SpringFactor(const CondensedPart& part); // must outlive it

    void add_lasting(std::span<const int> rows); // not in the tail
    void add_passing(int row);
    void remove_passing(int row);
    void forget(int row) { head_.forget(row); } // it will never be held again
    const HeadFactor& head() const { return head_; }

    // Forces and motions for the values that all rows have without springs. `line`: of free - offset, by head().
    void solve(const Eigen::VectorXd& free, const Eigen::VectorXd& offset, const std::vector<double>& line);
    // After solve().
    void values(std::span<const int> rows, const Eigen::VectorXd& free, std::span<double> values);
    double force(int passing) const;
    const Eigen::VectorXd& motion() const { return motion_; }
    void add_forces(Eigen::VectorXd& of_rows); // of every held row

private:
    using Vector = std::vector<double>;
    double* tail_column(int j) { return tail_.data() + static_cast<std::size_t>(j) * tail_stride_; }
    double* tail_motion(int j) { return tail_motion_.data() + static_cast<std::size_t>(j) * motion_stride_; }
    int place_in_tail(int row) const;
    void take_from_tail(int of_head);
    void grow_tail();
    void factor_motions();
    void add_columns(double* sum, std::span<const double* const> columns, std::span<const double> factors, int count);
    const Vector& head_forces();

    const CondensedPart& part_;
    const PartModel& model_;
    const DenseKernel& kernel_;
    HeadFactor head_;

    std::vector<int> passing_;
    int tail_stride_ = 0, motion_stride_ = 0;
    Vector tail_, tail_motion_; // T by columns; Q by rows

    Eigen::MatrixXd motion_square_; // ground + S^T S + Q^T Q, lower triangle
    Eigen::LLT<Eigen::MatrixXd> motion_factor_;
    bool motion_fresh_ = false;

    std::vector<const double*> motion_lines_, lines_; // scratch: what to multiply
    Vector products_, given_, lost_motion_;           // scratch
    Vector head_part_, tail_force_;                   // of the last solve: head_part = L^T head forces
    Eigen::VectorXd motion_;
    Vector head_force_; // empty: not known yet
};

} // namespace holdtrue::distortion
