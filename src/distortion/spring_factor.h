// The springs of a condensed part, factored. With ties and other springs of stiffness k on rows of value v, the forces
// s = k (v - offset) and the motions a of the panels follow from (condensed_part.h for C and R)
//   [C + 1/k   -R    ] [s]   [free - offset]
//   [-R^T      -ground] [a] = [0            ]
// Rows held for good come first in the Cholesky factor of C + 1/k, one row more for each; rows that will be let go
// (contacts, clamps, tacks that are remelted, the fixture) are its tail. A row added to the head takes part of the
// tail's flexibility away and a row that leaves the tail gives some back: both by plane rotations (Golub & Van Loan,
// Matrix Computations, 6.5; downdate as LINPACK's dchdd), so that no change costs more than the square of the rows.
//   head   L L^T = C_HH + 1/k         S = L^-1 R_H           Z_w = L^-1 C_Hw of every watched row w
//   tail   T T^T = C_TT + 1/k - Z_T^T Z_T                     Q = T^-1 (R_T - Z_T^T S)
#pragma once

#include "distortion/condensed_part.h"
#include "distortion/dense_kernel.h"

#include <Eigen/Cholesky>

#include <span>

namespace holdtrue::distortion {

class SpringFactor {
public:
    explicit SpringFactor(const CondensedPart& part); // must outlive it

    void add_lasting(int row); // not in the tail
    void add_passing(int row);
    void remove_passing(int row);
    void forget(int row); // it will never be held again

    // Forces and motions for the values that all rows have without springs.
    void solve(const Eigen::VectorXd& free, const std::vector<double>& offset);
    // After solve().
    void values(std::span<const int> rows, const Eigen::VectorXd& free, std::span<double> values);
    double force(int row);
    const Eigen::VectorXd& motion() const { return motion_; }
    void add_forces(Eigen::VectorXd& of_rows); // of every held row

private:
    using Vector = std::vector<double>;
    double* head_row(int i) { return head_.data() + static_cast<std::size_t>(i) * head_stride_; }
    double* watched_row(int slot) { return watched_.data() + static_cast<std::size_t>(slot) * head_stride_; }
    double* tail_column(int j) { return tail_.data() + static_cast<std::size_t>(j) * tail_stride_; }
    double* head_motion(int i) { return head_motion_.data() + static_cast<std::size_t>(i) * motion_stride_; }
    double* tail_motion(int j) { return tail_motion_.data() + static_cast<std::size_t>(j) * motion_stride_; }
    double* watched_by(int row) { return watched_row(slot_[static_cast<std::size_t>(row)]); }
    void take_from_tail(const double* of_tail, const double* of_motion);
    void grow_tail();
    void factor_motions();
    void find_head_forces();
    double flexibility(int row, int other) const { return part_.flexibility()(other, row); }

    const CondensedPart& part_;
    const PartModel& model_;
    const DenseKernel& kernel_;
    std::vector<int> watched_rows_; // row of each slot
    std::vector<int> slot_;         // of each row, or -1

    std::vector<int> lasting_;
    int head_stride_ = 0;
    Vector head_, watched_, head_motion_; // L by rows; Z by rows; S by rows

    std::vector<int> passing_;
    int tail_stride_ = 0, motion_stride_ = 0;
    Vector tail_, tail_motion_; // T by columns; Q by rows

    Eigen::MatrixXd motion_square_; // ground + S^T S + Q^T Q, lower triangle
    Eigen::LLT<Eigen::MatrixXd> motion_factor_;
    bool motion_fresh_ = false;

    std::vector<const double*> lines_; // scratch: rows to multiply
    Vector products_;                  // scratch: and what came out
    Vector head_part_, tail_force_;    // of the last solve: head_part = L^T head forces
    Eigen::VectorXd motion_;
    Vector head_force_;
    bool head_forces_known_ = false;
};

} // namespace holdtrue::distortion
