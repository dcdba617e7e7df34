// Rows held for good, as a Cholesky factor that grows (Golub & Van Loan, Matrix Computations, 4.2, by rows):
//   L L^T = C_HH + 1/k
// with C and R of condensed_part.h and H the rows in the order in which they were tied. Of any row w there is the line
// L^-1 C_Hw, and of every motion k the line L^-1 R_Hk. The line of a row that comes to be tied is its row of L. A line
// is worked out as far as it is asked for, many at a time, from where it was left; each number once.
//
// Copies share the lines, since nobody changes a number that is known. The one that made them goes on writing behind
// what the others know of them; a copy that goes on takes lines of its own first.
#pragma once

#include "distortion/condensed_part.h"
#include "distortion/dense_kernel.h"

#include <memory>
#include <span>

namespace holdtrue::distortion {

class HeadFactor {
public:
    explicit HeadFactor(const CondensedPart& part); // must outlive it
    HeadFactor(const HeadFactor& other);
    HeadFactor& operator=(const HeadFactor& other);

    int size() const { return static_cast<int>(rows_.size()); }
    std::span<const int> rows() const { return rows_; }
    bool is_tied(int row) const { return tied_[static_cast<std::size_t>(row)] != 0; }
    // Whether the line of a row that is not tied is worked out to its end.
    bool is_known(int row) const { return !is_tied(row) && known_[static_cast<std::size_t>(row)] == size(); }
    void tie(std::span<const int> rows);

    // Lines of rows by their index, of motions by this one.
    int motion(int k) const { return model().row_count() + k; }
    void grow(std::span<const int> lines); // until they have size() numbers; not of tied rows
    const double* line(int line) const { return lines_.get() + static_cast<std::size_t>(line) * stride_; }

    // Goes on, from where it ends, with L^-1 (of_rows - offset)_H.
    void extend(std::vector<double>& line, const Eigen::VectorXd& of_rows, const Eigen::VectorXd& offset) const;
    // L^-T line, in place.
    void solve_transposed(std::vector<double>& line) const;

private:
    // What a line is of: C_w or R_k, row r at first[r apart].
    struct Column {
        const double* first;
        std::ptrdiff_t apart;
    };
    Column column(int line) const;
    double* own_line(int line) { return lines_.get() + static_cast<std::size_t>(line) * stride_; }
    void take_own_lines();
    void advance(std::span<const int> lines, int from, int to);

    const PartModel& model() const { return part_->model(); }

    const CondensedPart* part_;
    const DenseKernel* kernel_;
    std::vector<int> rows_;
    std::vector<double> by_pivot_; // 1 / L_ii
    std::vector<char> tied_;       // row_count
    std::vector<int> known_;       // of every line: how many numbers
    std::size_t stride_ = 0;
    std::shared_ptr<double[]> lines_;
    bool owns_lines_ = false; // may write behind what is known

    std::vector<int> behind_;             // scratch of grow()
    std::vector<const double*> of_lines_; // scratch of advance()
    std::vector<double> products_;
};

} // namespace holdtrue::distortion
