#include "distortion/spring_factor.h"

#include "text/verify.h"

#include <algorithm>
#include <functional>

namespace holdtrue::distortion {

SpringFactor::SpringFactor(const CondensedPart& part) : part_(&part), kernel_(&best_dense_kernel()), head_(part) {
    const auto motions = part.motions().cols();
    motion_square_ = Eigen::MatrixXd::Zero(motions, motions);
    motion_square_.diagonal().array() += model().ground_n_per_m();
    motion_ = Eigen::VectorXd::Zero(motions);
    for (int k = 0; k < motions; ++k)
        motion_line_.push_back(head_.motion(k));
    factor_motions(); // or a copy would take over a factor that is not there
}

std::span<const double* const> SpringFactor::motion_lines() {
    motion_lines_.clear();
    for (const int line : motion_line_)
        motion_lines_.push_back(head_.line(line));
    return motion_lines_;
}

void SpringFactor::add_lasting(std::span<const int> rows) {
    const int before = head_.size();
    head_.tie(rows);
    head_.grow(motion_line_);
    head_.grow(passing_);
    for (int i = before; i < head_.size(); ++i)
        take_from_tail(i);
}

// N^T x, then P x.
const SpringFactor::Vector& SpringFactor::through_tail(std::span<const double> x) {
    products_.assign(motion_.size() + passing_.size(), 0);
    lines_.clear();
    for (int j = 0; j < tail_size(); ++j)
        lines_.push_back(tail_row(j));
    kernel_->add_columns(products_.data(), x.data(), lines_.data(), tail_size(), static_cast<int>(products_.size()));
    return products_;
}

// P += x x^T / square, N += x y^T, M += square y y^T, for x `of_tail` and y `of_motion`.
void SpringFactor::change_tail(const double* of_tail, const double* of_motion, double square) {
    const int m = tail_size(), motions = motion_count();
    change_.assign(of_motion, of_motion + motions);
    for (int j = 0; j < m; ++j)
        change_.push_back(of_tail[j] / square);
    kernel_->add_outer(tail_.data(), static_cast<int>(tail_stride_), of_tail, m, change_.data(), motions + m);
    const Eigen::Map<const Eigen::VectorXd> gained(change_.data(), motions);
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(gained, square);
    motion_fresh_ = false;
}

void SpringFactor::take_from_tail(int of_head) {
    const int m = tail_size(), motions = motion_count();
    of_tail_.clear();
    for (const int row : passing_)
        of_tail_.push_back(head_.line(row)[of_head]);
    Vector through = through_tail(of_tail_);
    const double square = 1 - kernel_->dot(of_tail_.data(), through.data() + motions, m);
    VERIFY(square > 0, "a head row leaves every tail row some flexibility");
    for (int k = 0; k < motions; ++k) {
        double& value = through[static_cast<std::size_t>(k)];
        value = (value - head_.line(head_.motion(k))[of_head]) / square;
    }
    change_tail(through.data() + motions, through.data(), square);
}

void SpringFactor::grow_tail() {
    const std::size_t motions = static_cast<std::size_t>(motion_count()), room = passing_.size() + 32;
    const std::size_t stride = motions + room;
    Vector grown(stride * room, 0);
    for (int j = 0; j < tail_size(); ++j)
        std::copy_n(tail_row(j), motions + passing_.size(), grown.data() + static_cast<std::size_t>(j) * stride);
    tail_ = std::move(grown);
    tail_stride_ = stride;
}

void SpringFactor::add_passing(int row) {
    const int n = head_.size(), m = tail_size(), motions = motion_count();
    if (tail_.size() < static_cast<std::size_t>(m + 1) * tail_stride_ + 1)
        grow_tail();
    head_.grow({&row, 1});
    const double* of_head = head_.line(row);
    const double* of_row = part_->flexibility().col(row).data();
    lines_.clear();
    for (const int other : passing_)
        lines_.push_back(head_.line(other));
    of_tail_.resize(passing_.size());
    kernel_->dots(lines_.data(), m, of_head, n, of_tail_.data());
    for (std::size_t j = 0; j < of_tail_.size(); ++j)
        of_tail_[j] = of_row[passing_[j]] - of_tail_[j];
    Vector of_motion(motion_line_.size());
    kernel_->dots(motion_lines().data(), motions, of_head, n, of_motion.data());

    Vector through = through_tail(of_tail_);
    const double square = of_row[row] + 1 / model().spring(row) - kernel_->dot(of_head, of_head, n) -
                          kernel_->dot(of_tail_.data(), through.data() + motions, m);
    VERIFY(square > 0, "springs do not repeat each other");
    for (int k = 0; k < motions; ++k) {
        double& value = through[static_cast<std::size_t>(k)];
        value = (value + of_motion[static_cast<std::size_t>(k)] - part_->motions()(row, k)) / square;
    }
    change_tail(through.data() + motions, through.data(), square);
    double* own = tail_row(m);
    for (int k = 0; k < motions; ++k)
        own[k] = -through[static_cast<std::size_t>(k)];
    for (int j = 0; j < m; ++j)
        own[motions + j] = tail_row(j)[motions + m] = -through[static_cast<std::size_t>(motions + j)] / square;
    own[motions + m] = 1 / square;
    passing_.push_back(row);
}

int SpringFactor::place_in_tail(int row) const {
    const auto found = std::ranges::find(passing_, row);
    VERIFY(found != passing_.end(), "only a row held for a time is in the tail");
    return static_cast<int>(found - passing_.begin());
}

// The last row takes its place.
void SpringFactor::remove_passing(int row) {
    const int at = place_in_tail(row), last = tail_size() - 1, motions = motion_count();
    Vector own(tail_row(at), tail_row(at) + motions + last + 1);
    const double square = -own[static_cast<std::size_t>(motions + at)];
    for (int k = 0; k < motions; ++k)
        own[static_cast<std::size_t>(k)] /= square;
    change_tail(own.data() + motions, own.data(), square);
    std::copy_n(tail_row(last), motions + last + 1, tail_row(at));
    for (int j = 0; j < last; ++j)
        tail_row(j)[motions + at] = tail_row(j)[motions + last];
    passing_[static_cast<std::size_t>(at)] = passing_.back();
    passing_.pop_back();
}

void SpringFactor::factor_motions() {
    if (motion_fresh_)
        return;
    motion_factor_.compute(motion_square_);
    VERIFY(motion_factor_.info() == Eigen::Success, "the ground holds every motion");
    motion_fresh_ = true;
}

void SpringFactor::solve(const Eigen::VectorXd& free, const Eigen::VectorXd& offset, const Vector& line) {
    factor_motions();
    const int n = head_.size(), m = tail_size(), motions = motion_count();
    VERIFY(static_cast<int>(line.size()) == n, "the line is of this head");
    tail_lines_.clear();
    for (const int row : passing_)
        tail_lines_.push_back(head_.line(row));
    of_tail_.resize(passing_.size());
    kernel_->dots(tail_lines_.data(), m, line.data(), n, of_tail_.data());
    for (std::size_t j = 0; j < of_tail_.size(); ++j)
        of_tail_[j] = free[passing_[j]] - offset[passing_[j]] - of_tail_[j];
    const Vector& through = through_tail(of_tail_);
    kernel_->dots(motion_lines().data(), motions, line.data(), n, motion_.data());
    motion_ = -motion_ - Eigen::Map<const Eigen::VectorXd>(through.data(), motions);
    motion_factor_.solveInPlace(motion_);
    tail_force_.resize(passing_.size());
    // through_tail() left the rows of N and P in lines_.
    kernel_->dots(lines_.data(), m, motion_.data(), motions, tail_force_.data());
    for (int j = 0; j < m; ++j)
        tail_force_[static_cast<std::size_t>(j)] += through[static_cast<std::size_t>(motions + j)];
    head_part_ = line;
    kernel_->add_columns(head_part_.data(), motion_.data(), motion_lines().data(), motions, n);
    std::ranges::transform(tail_force_, of_tail_.begin(), std::negate());
    kernel_->add_columns(head_part_.data(), of_tail_.data(), tail_lines_.data(), m, n);
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
    const int n = head_.size(), m = tail_size(), motions = motion_count();
    loose_.assign(rows.begin(), rows.end());
    std::erase_if(loose_, [&](int row) { return head_.is_tied(row); });
    head_.grow(loose_);
    lines_.clear();
    for (const int row : loose_)
        lines_.push_back(head_.line(row));
    products_.resize(lines_.size());
    kernel_->dots(lines_.data(), static_cast<int>(lines_.size()), head_part_.data(), n, products_.data());
    const double* through_head = products_.data();
    for (std::size_t k = 0; k < rows.size(); ++k) {
        const int row = rows[k];
        const double* of_row = part_->flexibility().col(row).data();
        const double of_head = head_.is_tied(row)
                                   ? kernel_->gathered_dot(of_row, head_.rows().data(), head_forces().data(), n)
                                   : *through_head++;
        values[k] = free[row] + kernel_->dot(part_->motions().row(row).data(), motion_.data(), motions) -
                    kernel_->gathered_dot(of_row, passing_.data(), tail_force_.data(), m) - of_head;
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
