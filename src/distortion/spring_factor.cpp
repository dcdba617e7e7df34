#include "distortion/spring_factor.h"

#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {

SpringFactor::SpringFactor(const CondensedPart& part)
    : part_(part), model_(part.model()), kernel_(best_dense_kernel()), head_(part) {
    const int motions = static_cast<int>(part.motions().cols());
    motion_stride_ = (motions + 7) / 8 * 8;
    motion_square_ = Eigen::MatrixXd::Zero(motions, motions);
    motion_square_.diagonal().array() += model_.ground_n_per_m();
    motion_ = Eigen::VectorXd::Zero(motions);
    for (int k = 0; k < motions; ++k)
        motion_lines_.push_back(head_.motion_line(k));
}

void SpringFactor::add_lasting(std::span<const int> rows) {
    const int before = head_.size();
    head_.add(rows);
    for (int i = before; i < head_.size(); ++i)
        take_from_tail(i);
}

// T T^T loses z z^T, the head's motions gain what the tail's lose.
void SpringFactor::take_from_tail(int of_head) {
    const int m = static_cast<int>(passing_.size()), motions = static_cast<int>(motion_.size());
    Vector& reach = products_; // T^-1 z
    reach.clear();
    for (const int row : passing_)
        reach.push_back(head_.line(row)[of_head]);
    for (int j = 0; j < m; ++j) {
        reach[static_cast<std::size_t>(j)] /= tail_column(j)[j];
        kernel_.add(reach.data() + j + 1, -reach[static_cast<std::size_t>(j)], tail_column(j) + j + 1, m - j - 1);
    }
    const double left = 1 - kernel_.dot(reach.data(), reach.data(), m);
    VERIFY(left > 0, "a head row leaves every tail row some flexibility");
    double alpha = std::sqrt(left);
    Vector& motion = lost_motion_;
    motion.clear();
    for (const double* line : motion_lines_)
        motion.push_back(line[of_head]);
    lines_.clear();
    for (int j = 0; j < m; ++j)
        lines_.push_back(tail_motion(j));
    given_.resize(static_cast<std::size_t>(m));
    std::ranges::transform(reach, given_.begin(), std::negate());
    add_columns(motion.data(), lines_, given_, motions);
    for (double& value : motion)
        value /= alpha;
    const Eigen::Map<const Eigen::VectorXd> gained(motion.data(), motions);
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(gained);
    motion_fresh_ = false;

    std::ranges::fill(given_, 0.0);
    for (int j = m - 1; j >= 0; --j) {
        const double norm = std::hypot(alpha, reach[static_cast<std::size_t>(j)]);
        const double c = alpha / norm, s = reach[static_cast<std::size_t>(j)] / norm;
        alpha = norm;
        kernel_.rotate(tail_column(j) + j, given_.data() + j, c, s, m - j);
        kernel_.rotate(tail_motion(j), motion.data(), c, s, motions);
    }
}

void SpringFactor::grow_tail() {
    const int stride = std::max(64, 2 * tail_stride_);
    Vector grown(static_cast<std::size_t>(stride) * static_cast<std::size_t>(stride), 0);
    for (int j = 0; j < static_cast<int>(passing_.size()); ++j)
        std::copy_n(tail_column(j), tail_stride_,
                    grown.data() + static_cast<std::size_t>(j) * static_cast<std::size_t>(stride));
    tail_ = std::move(grown);
    tail_stride_ = stride;
    tail_motion_.resize(static_cast<std::size_t>(stride) * static_cast<std::size_t>(motion_stride_), 0);
}

void SpringFactor::add_passing(int row) {
    const int n = head_.size(), m = static_cast<int>(passing_.size()), motions = static_cast<int>(motion_.size());
    if (m == tail_stride_)
        grow_tail();
    const double* of_head = head_.line(row);
    lines_.clear();
    for (const int other : passing_)
        lines_.push_back(head_.line(other));
    Vector& own = given_;
    own.resize(static_cast<std::size_t>(m));
    kernel_.dots(lines_.data(), m, of_head, n, own.data());
    const double* of_row = part_.flexibility().col(row).data();
    for (std::size_t j = 0; j < own.size(); ++j)
        own[j] = of_row[passing_[j]] - own[j];
    double* of_motion = tail_motion(m);
    kernel_.dots(motion_lines_.data(), motions, of_head, n, of_motion);
    for (int k = 0; k < motions; ++k)
        of_motion[k] = part_.motions()(row, k) - of_motion[k];
    for (int j = 0; j < m; ++j) {
        const double entry = own[static_cast<std::size_t>(j)] /= tail_column(j)[j];
        kernel_.add(own.data() + j + 1, -entry, tail_column(j) + j + 1, m - j - 1);
        tail_column(j)[m] = entry;
        kernel_.add(of_motion, -entry, tail_motion(j), motions);
    }
    const double square = of_row[row] + 1 / model_.spring(row) - kernel_.dot(of_head, of_head, n) -
                          kernel_.dot(own.data(), own.data(), m);
    VERIFY(square > 0, "springs do not repeat each other");
    const double pivot = std::sqrt(square);
    tail_column(m)[m] = pivot;
    for (int k = 0; k < motions; ++k)
        of_motion[k] /= pivot;
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(Eigen::Map<const Eigen::VectorXd>(of_motion, motions));
    motion_fresh_ = false;
    passing_.push_back(row);
}

int SpringFactor::place_in_tail(int row) const {
    const auto found = std::ranges::find(passing_, row);
    VERIFY(found != passing_.end(), "only a row held for a time is in the tail");
    return static_cast<int>(found - passing_.begin());
}

void SpringFactor::remove_passing(int row) {
    const int at = place_in_tail(row), m = static_cast<int>(passing_.size());
    const int motions = static_cast<int>(motion_.size());
    given_.assign(tail_column(at), tail_column(at) + m); // what the rows behind had through this one
    lost_motion_.assign(tail_motion(at), tail_motion(at) + motions);
    for (int j = at + 1; j < m; ++j) {
        double* column = tail_column(j);
        const double norm = std::hypot(column[j], given_[static_cast<std::size_t>(j)]);
        const double c = column[j] / norm, s = -given_[static_cast<std::size_t>(j)] / norm;
        kernel_.rotate(column + j, given_.data() + j, c, s, m - j);
        kernel_.rotate(tail_motion(j), lost_motion_.data(), c, s, motions);
    }
    const Eigen::Map<const Eigen::VectorXd> lost(lost_motion_.data(), motions);
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(lost, -1);
    motion_fresh_ = false;
    for (int j = 0; j < at; ++j)
        std::copy(tail_column(j) + at + 1, tail_column(j) + m, tail_column(j) + at);
    for (int j = at + 1; j < m; ++j) {
        std::copy(tail_column(j) + j, tail_column(j) + m, tail_column(j - 1) + j - 1);
        std::copy_n(tail_motion(j), motions, tail_motion(j - 1));
    }
    passing_.erase(passing_.begin() + at);
}

void SpringFactor::factor_motions() {
    if (motion_fresh_)
        return;
    motion_factor_.compute(motion_square_);
    VERIFY(motion_factor_.info() == Eigen::Success, "the ground holds every motion");
    motion_fresh_ = true;
}

void SpringFactor::add_columns(double* sum, std::span<const double* const> columns, std::span<const double> factors,
                               int count) {
    std::size_t j = 0;
    for (; j + 4 <= columns.size(); j += 4)
        kernel_.add_four(sum, factors.data() + j, columns.data() + j, count);
    for (; j < columns.size(); ++j)
        kernel_.add(sum, factors[j], columns[j], count);
}

void SpringFactor::solve(const Eigen::VectorXd& free, const Eigen::VectorXd& offset, const Vector& line) {
    factor_motions();
    const int n = head_.size(), m = static_cast<int>(passing_.size()), motions = static_cast<int>(motion_.size());
    VERIFY(static_cast<int>(line.size()) == n, "the line is of this head");
    lines_.clear();
    for (const int row : passing_)
        lines_.push_back(head_.line(row));
    tail_force_.resize(static_cast<std::size_t>(m));
    double* p = tail_force_.data();
    kernel_.dots(lines_.data(), m, line.data(), n, p);
    for (int j = 0; j < m; ++j) {
        const int row = passing_[static_cast<std::size_t>(j)];
        p[j] = free[row] - offset[row] - p[j];
    }
    kernel_.dots(motion_lines_.data(), motions, line.data(), n, motion_.data());
    motion_ *= -1;
    for (int j = 0; j < m; ++j) {
        p[j] /= tail_column(j)[j];
        kernel_.add(p + j + 1, -p[j], tail_column(j) + j + 1, m - j - 1);
        kernel_.add(motion_.data(), -p[j], tail_motion(j), motions);
    }
    motion_factor_.solveInPlace(motion_);
    for (int j = m - 1; j >= 0; --j) {
        p[j] += kernel_.dot(tail_motion(j), motion_.data(), motions);
        p[j] = (p[j] - kernel_.dot(tail_column(j) + j + 1, p + j + 1, m - j - 1)) / tail_column(j)[j];
    }
    head_part_ = line;
    add_columns(head_part_.data(), motion_lines_, {motion_.data(), static_cast<std::size_t>(motions)}, n);
    given_.resize(static_cast<std::size_t>(m));
    std::ranges::transform(tail_force_, given_.begin(), std::negate());
    add_columns(head_part_.data(), lines_, given_, n);
    head_force_.clear();
}

const SpringFactor::Vector& SpringFactor::head_forces() {
    if (head_force_.empty()) {
        head_force_ = head_part_;
        head_.solve_transposed(head_force_);
    }
    return head_force_;
}

void SpringFactor::values(std::span<const int> rows, const Eigen::VectorXd& free, std::span<double> values) {
    const int n = head_.size(), motions = static_cast<int>(motion_.size());
    lines_.clear();
    for (const int row : rows)
        if (head_.has_line(row))
            lines_.push_back(head_.line(row));
    products_.resize(lines_.size());
    kernel_.dots(lines_.data(), static_cast<int>(lines_.size()), head_part_.data(), n, products_.data());
    const double* through_head = products_.data();
    for (std::size_t k = 0; k < rows.size(); ++k) {
        const int row = rows[k];
        const double* of_row = part_.flexibility().col(row).data();
        const double of_head = head_.has_line(row)
                                   ? *through_head++
                                   : kernel_.gathered_dot(of_row, head_.rows().data(), head_forces().data(), n);
        values[k] = free[row] + kernel_.dot(part_.motions().row(row).data(), motion_.data(), motions) -
                    kernel_.gathered_dot(of_row, passing_.data(), tail_force_.data(),
                                         static_cast<int>(passing_.size())) -
                    of_head;
    }
}

double SpringFactor::force(int passing) const { return tail_force_[static_cast<std::size_t>(place_in_tail(passing))]; }

void SpringFactor::add_forces(Eigen::VectorXd& of_rows) {
    for (std::size_t i = 0; i < head_.rows().size(); ++i)
        of_rows[head_.rows()[i]] += head_forces()[i];
    for (std::size_t j = 0; j < passing_.size(); ++j)
        of_rows[passing_[j]] += tail_force_[j];
}

} // namespace holdtrue::distortion
