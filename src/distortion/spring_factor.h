// The springs of a condensed part, solved. With ties and other springs of stiffness k on rows of value v, the forces
// s = k (v - offset) and the motions a of the panels follow from (condensed_part.h for C and R)
//   [C + 1/k   -R    ] [s]   [free - offset]
//   [-R^T      -ground] [a] = [0            ]
// Rows held for good are the head, a Cholesky factor (head_factor.h). Of the few rows T that will be let go (contacts,
// clamps, tacks that are remelted, the fixture), the tail, the inverse is kept:
//   P = (C_TT + 1/k - Z_T^T Z_T)^-1       N = P (R_T - Z_T^T S)       M = ground + S^T S + (R_T - Z_T^T S)^T N
// Rows that join the tail, leave it, or take flexibility from it by joining the head do so in blocks of a few, whose
// rank is their number (Woodbury 1950; bordering as in Golub & Van Loan, Matrix Computations, 2.1.4):
//   P +- Y Y^T     N +- Y V     M +- V^T V
// A block costs the tail's square, little more than a single row.
#pragma once

#include "distortion/head_factor.h"

#include <Eigen/Cholesky>

namespace holdtrue::distortion {

class SpringFactor {
public:
    explicit SpringFactor(const CondensedPart& part); // must outlive it

    void add_lasting(std::span<const int> rows); // not in the tail
    void add_passing(std::span<const int> rows);
    void remove_passing(std::span<const int> rows);
    const HeadFactor& head() const { return head_; }

    // Forces and motions for the values that all rows have without springs. `line`: of free - offset, by head().
    void solve(const Eigen::VectorXd& free, const Eigen::VectorXd& offset, const std::vector<double>& line);
    // What values() needs less time for later, if it is asked for these rows again and again.
    void grow(std::span<const int> rows);
    // After solve().
    void values(std::span<const int> rows, const Eigen::VectorXd& free, std::span<double> values);
    double force(int passing) const;
    const Eigen::VectorXd& motion() const { return motion_; }
    void add_forces(Eigen::VectorXd& of_rows); // of every held row

private:
    using Vector = std::vector<double>;
    static constexpr int block_rows = 8; // at most
    int tail_size() const { return static_cast<int>(passing_.size()); }
    int motion_count() const { return static_cast<int>(motion_.size()); }
    double* tail_row(int j) { return tail_.data() + static_cast<std::size_t>(j) * tail_stride_; }
    int place_in_tail(int row) const;
    template <class Work>
    void in_blocks(std::span<const int> rows, const Work& work);
    void make_room(int tail_rows);
    const Vector& through_tail(std::span<const double> of_tail);
    void take_from_tail(int first, int count);
    void add_block(std::span<const int> rows);
    void remove_block(std::span<const int> rows);
    // A block under way: in `changes` a row of V and a column of Y for each of its rows, in `square` what they are
    // divided by the root of.
    double* change(int i) { return scratch_.changes.data() + static_cast<std::size_t>(i) * tail_stride_; }
    void block_through_tail(int count);
    void change_tail(double sign);
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

    // What a call works with. Copies of a factor have no use for it.
    struct Scratch {
        std::vector<int> loose;
        std::vector<const double*> motion_lines, lines, tail_lines;
        Vector of_tail, products, block, of_motion, changes;
        Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, block_rows, block_rows> square;
        Scratch() = default;
        Scratch(const Scratch&) {}
        Scratch& operator=(const Scratch&) { return *this; }
    };
    Scratch scratch_;

    // Of the last solve: head_part = L^T head forces.
    Vector head_part_, tail_force_;
    Eigen::VectorXd motion_;
    Vector head_force_; // empty: not known yet
};

} // namespace holdtrue::distortion
