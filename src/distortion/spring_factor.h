// The springs of a condensed part, solved. With ties and other springs of stiffness k on rows of value v, the forces
// s = k (v - offset) and the motions a of the panels follow from (condensed_part.h for C and R)
//   [C + 1/k   -R    ] [s]   [free - offset]
//   [-R^T      -ground] [a] = [0            ]
// Rows held for good are the head, a Cholesky factor (head_factor.h). Of the few rows T that will be let go (contacts,
// clamps, tacks that are remelted, the fixture), the tail, the inverse is kept:
//   P = (C_TT + 1/k - Z_T^T Z_T)^-1       N = P (R_T - Z_T^T S)       M = ground + S^T S + (R_T - Z_T^T S)^T N
// Every change, a row that joins the tail, leaves it, or takes flexibility from it by joining the head, is of rank one
// (Sherman & Morrison 1950; bordering as in Golub & Van Loan, Matrix Computations, 2.1.4) and costs the tail's square.
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
    int tail_size() const { return static_cast<int>(passing_.size()); }
    int motion_count() const { return static_cast<int>(motion_.size()); }
    double* tail_row(int j) { return tail_.data() + static_cast<std::size_t>(j) * tail_stride_; }
    int place_in_tail(int row) const;
    void take_from_tail(int of_head);
    void grow_tail();
    const Vector& through_tail(std::span<const double> of_tail);
    void change_tail(const double* of_tail, const double* of_motion, double square);
    void factor_motions();
    const Vector& head_forces();

    const PartModel& model() const { return part_->model(); }
    std::span<const double* const> motion_lines();

    const CondensedPart* part_;
    const DenseKernel* kernel_;
    HeadFactor head_;

    std::vector<int> passing_;
    std::size_t tail_stride_ = 0;
    Vector tail_; // of every tail row its row of N, then its row of P

    Eigen::MatrixXd motion_square_; // M, lower triangle
    Eigen::LLT<Eigen::MatrixXd> motion_factor_;
    bool motion_fresh_ = false;

    std::vector<int> motion_line_; // of every motion
    std::vector<int> loose_;       // scratch of values()
    // Scratch: what to multiply, by what, and what came out.
    std::vector<const double*> motion_lines_, lines_, tail_lines_;
    Vector of_tail_, products_, change_;
    // Of the last solve: head_part = L^T head forces.
    Vector head_part_, tail_force_;
    Eigen::VectorXd motion_;
    Vector head_force_; // empty: not known yet
};

} // namespace holdtrue::distortion
