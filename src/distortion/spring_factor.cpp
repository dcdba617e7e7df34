#include "distortion/spring_factor.h"

#include "text/verify.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <tuple>

namespace holdtrue::distortion {

SpringFactor::SpringFactor(const CondensedPart& part) : part_(&part), kernel_(&best_dense_kernel()), head_(part) {
    const auto motions = part.motions().cols();
    motion_square_ = Eigen::MatrixXd::Zero(motions, motions);
    motion_square_.diagonal().array() += model().ground_n_per_m();
    motion_ = Eigen::VectorXd::Zero(motions);
    for (int k = 0; k < motions; ++k)
        motion_line_.push_back(head_.motion(k));
    make_room(0);
    factor_motions(); // or a copy would take over a factor that is not there
}

std::span<const double* const> SpringFactor::motion_lines() {
    auto& lines = scratch_.motion_lines;
    lines.clear();
    for (const int line : motion_line_)
        lines.push_back(head_.line(line));
    return lines;
}

template <class Work>
void SpringFactor::in_blocks(std::span<const int> rows, const Work& work) {
    for (std::size_t done = 0; done < rows.size(); done += block_rows)
        work(rows.subspan(done, std::min<std::size_t>(block_rows, rows.size() - done)));
}

void SpringFactor::add_lasting(std::span<const int> rows) {
    in_blocks(rows, [&](std::span<const int> block) {
        const int before = head_.size();
        head_.tie(block);
        head_.grow(motion_line_);
        head_.grow(passing_);
        take_from_tail(before, head_.size() - before);
    });
}

void SpringFactor::add_passing(std::span<const int> rows) {
    in_blocks(rows, [&](std::span<const int> block) { add_block(block); });
}

void SpringFactor::remove_passing(std::span<const int> rows) {
    in_blocks(rows, [&](std::span<const int> block) { remove_block(block); });
}

// N^T x, then P x.
const SpringFactor::Vector& SpringFactor::through_tail(std::span<const double> x) {
    auto [lines, products] = std::tie(scratch_.lines, scratch_.products);
    products.assign(motion_.size() + passing_.size(), 0);
    lines.clear();
    for (int j = 0; j < tail_size(); ++j)
        lines.push_back(tail_row(j));
    kernel_->add_columns(products.data(), x.data(), lines.data(), tail_size(), static_cast<int>(products.size()));
    return products;
}

// The same of `count` columns of `block`, as changes.
void SpringFactor::block_through_tail(int count) {
    const int m = tail_size();
    scratch_.lines.clear();
    for (int j = 0; j < m; ++j)
        scratch_.lines.push_back(tail_row(j));
    scratch_.changes.resize(static_cast<std::size_t>(count) * tail_stride_);
    scratch_.square.resize(count, count);
    for (int i = 0; i < count; ++i) {
        std::fill_n(change(i), motion_count() + m, 0.0);
        kernel_->add_columns(change(i), scratch_.block.data() + static_cast<std::ptrdiff_t>(i) * m,
                             scratch_.lines.data(), m, motion_count() + m);
    }
}

// Divides the changes by the root of their square and adds what they make of P, N and M.
void SpringFactor::change_tail(double sign) {
    const int m = tail_size(), motions = motion_count(), count = static_cast<int>(scratch_.square.cols());
    auto& root = scratch_.square;
    for (int i = 0; i < count; ++i) {
        for (int k = 0; k < i; ++k) {
            root(i, k) = (root(i, k) - root.row(i).head(k).dot(root.row(k).head(k))) / root(k, k);
            kernel_->add(change(i), -root(i, k), change(k), motions + m);
        }
        const double square = root(i, i) - root.row(i).head(i).squaredNorm();
        VERIFY(square > 0, "springs do not repeat each other, and leave every other row some flexibility");
        root(i, i) = std::sqrt(square);
        Eigen::Map<Eigen::VectorXd>(change(i), motions + m) /= root(i, i);
    }
    std::array<const double*, block_rows> rows{};
    std::array<double, block_rows> factors{};
    const auto add_to = [&](double* sum, int first, int length) {
        for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i)
            factors[i] = sign * change(static_cast<int>(i))[first];
        kernel_->add_columns(sum, factors.data(), rows.data(), count, length);
    };
    for (int k = 0; k < motions; ++k) {
        for (int i = 0; i < count; ++i)
            rows[static_cast<std::size_t>(i)] = change(i) + k;
        add_to(&motion_square_(k, k), k, motions - k);
    }
    for (int i = 0; i < count; ++i)
        rows[static_cast<std::size_t>(i)] = change(i);
    for (int j = 0; j < m; ++j)
        add_to(tail_row(j), motions + j, motions + m);
    motion_fresh_ = false;
}

// What `count` rows that have joined the head, the `first` of them and on, leave of it.
void SpringFactor::take_from_tail(int first, int count) {
    const int m = tail_size(), motions = motion_count();
    auto& block = scratch_.block;
    block.resize(static_cast<std::size_t>(m * count));
    for (int j = 0; j < m; ++j) {
        const double* line = head_.line(passing_[static_cast<std::size_t>(j)]) + first;
        for (int i = 0; i < count; ++i)
            block[static_cast<std::size_t>(i * m + j)] = line[i];
    }
    block_through_tail(count);
    for (int i = 0; i < count; ++i) {
        for (int k = 0; k <= i; ++k)
            scratch_.square(i, k) = (i == k ? 1.0 : 0.0) - kernel_->dot(block.data() + i * m, change(k) + motions, m);
        for (int k = 0; k < motions; ++k)
            change(i)[k] -= head_.line(head_.motion(k))[first + i];
    }
    change_tail(1);
}

// The rows that there are, with a stride for some more than that.
void SpringFactor::make_room(int tail_rows) {
    const auto motions = static_cast<std::size_t>(motion_count()), rows = static_cast<std::size_t>(tail_rows);
    if (tail_stride_ < motions + rows) {
        const std::size_t stride = motions + (rows + 15) / 16 * 16;
        Vector wider(rows * stride);
        for (int j = 0; j < tail_size(); ++j)
            std::copy_n(tail_row(j), motions + passing_.size(), wider.data() + static_cast<std::size_t>(j) * stride);
        tail_ = std::move(wider);
        tail_stride_ = stride;
    }
    tail_.resize(rows * tail_stride_);
}

void SpringFactor::add_block(std::span<const int> rows) {
    const int n = head_.size(), m = tail_size(), motions = motion_count(), count = static_cast<int>(rows.size());
    make_room(m + count);
    head_.grow(rows);
    auto [lines, own, block, of_motion] =
        std::tie(scratch_.lines, scratch_.tail_lines, scratch_.block, scratch_.of_motion);
    lines.clear(), own.clear();
    for (const int other : passing_)
        lines.push_back(head_.line(other));
    for (const int row : rows)
        own.push_back(head_.line(row));
    block.resize(static_cast<std::size_t>(m * count));
    kernel_->products(lines.data(), m, own.data(), count, n, block.data());
    for (int i = 0; i < count; ++i) {
        const auto of_row = part_->flexibility().col(rows[static_cast<std::size_t>(i)]);
        for (int j = 0; j < m; ++j) {
            double& value = block[static_cast<std::size_t>(i * m + j)];
            value = of_row[passing_[static_cast<std::size_t>(j)]] - value;
        }
    }
    block_through_tail(count);
    of_motion.resize(static_cast<std::size_t>(motions * count));
    kernel_->products(motion_lines().data(), motions, own.data(), count, n, of_motion.data());
    for (int i = 0; i < count; ++i) {
        const int row = rows[static_cast<std::size_t>(i)];
        for (int k = 0; k <= i; ++k)
            scratch_.square(i, k) =
                part_->flexibility()(rows[static_cast<std::size_t>(k)], row) -
                kernel_->dot(own[static_cast<std::size_t>(i)], own[static_cast<std::size_t>(k)], n) -
                kernel_->dot(block.data() + i * m, change(k) + motions, m);
        scratch_.square(i, i) += 1 / model().spring(row);
        for (int k = 0; k < motions; ++k)
            change(i)[k] += of_motion[static_cast<std::size_t>(i * motions + k)] - part_->motions()(row, k);
        std::fill_n(change(i) + motions + m, count, 0.0);
        change(i)[motions + m + i] = -1;
    }
    passing_.insert(passing_.end(), rows.begin(), rows.end());
    for (int j = 0; j < m + count; ++j)
        j < m ? std::fill_n(tail_row(j) + motions + m, count, 0.0) : std::fill_n(tail_row(j), motions + m + count, 0.0);
    change_tail(1);
}

int SpringFactor::place_in_tail(int row) const {
    const auto found = std::ranges::find(passing_, row);
    VERIFY(found != passing_.end(), "only a row held for a time is in the tail");
    return static_cast<int>(found - passing_.begin());
}

// The last row takes the place of each.
void SpringFactor::remove_block(std::span<const int> rows) {
    const int motions = motion_count(), count = static_cast<int>(rows.size());
    scratch_.changes.resize(static_cast<std::size_t>(count) * tail_stride_);
    scratch_.square.resize(count, count);
    for (int i = 0; i < count; ++i) {
        const double* own = tail_row(place_in_tail(rows[static_cast<std::size_t>(i)]));
        std::copy_n(own, motions + tail_size(), change(i));
        for (int k = 0; k <= i; ++k)
            scratch_.square(i, k) = own[motions + place_in_tail(rows[static_cast<std::size_t>(k)])];
    }
    change_tail(-1);
    for (const int row : rows) {
        const int at = place_in_tail(row), last = tail_size() - 1;
        std::copy_n(tail_row(last), motions + last + 1, tail_row(at));
        for (int j = 0; j < last; ++j)
            tail_row(j)[motions + at] = tail_row(j)[motions + last];
        passing_[static_cast<std::size_t>(at)] = passing_.back();
        passing_.pop_back();
    }
    make_room(tail_size());
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
    auto [tail_lines, lines, of_tail] = std::tie(scratch_.tail_lines, scratch_.lines, scratch_.of_tail);
    tail_lines.clear();
    for (const int row : passing_)
        tail_lines.push_back(head_.line(row));
    of_tail.resize(passing_.size());
    kernel_->dots(tail_lines.data(), m, line.data(), n, of_tail.data());
    for (std::size_t j = 0; j < of_tail.size(); ++j)
        of_tail[j] = free[passing_[j]] - offset[passing_[j]] - of_tail[j];
    const Vector& through = through_tail(of_tail);
    kernel_->dots(motion_lines().data(), motions, line.data(), n, motion_.data());
    motion_ = -motion_ - Eigen::Map<const Eigen::VectorXd>(through.data(), motions);
    motion_factor_.solveInPlace(motion_);
    tail_force_.resize(passing_.size());
    // through_tail() left the rows of N and P in lines.
    kernel_->dots(lines.data(), m, motion_.data(), motions, tail_force_.data());
    for (int j = 0; j < m; ++j)
        tail_force_[static_cast<std::size_t>(j)] += through[static_cast<std::size_t>(motions + j)];
    head_part_ = line;
    kernel_->add_columns(head_part_.data(), motion_.data(), motion_lines().data(), motions, n);
    std::ranges::transform(tail_force_, of_tail.begin(), std::negate());
    kernel_->add_columns(head_part_.data(), of_tail.data(), tail_lines.data(), m, n);
    head_force_.clear();
}

const SpringFactor::Vector& SpringFactor::head_forces() {
    if (head_force_.empty()) {
        head_force_ = head_part_;
        head_.solve_transposed(head_force_);
    }
    return head_force_;
}

void SpringFactor::grow(std::span<const int> rows) {
    auto& loose = scratch_.loose;
    loose.assign(rows.begin(), rows.end());
    std::erase_if(loose, [&](int row) { return head_.is_tied(row); });
    head_.grow(loose);
}

// Through the line of a row where it is known, else by the forces on the head.
void SpringFactor::values(std::span<const int> rows, const Eigen::VectorXd& free, std::span<double> values) {
    const int n = head_.size(), m = tail_size(), motions = motion_count();
    auto [lines, products] = std::tie(scratch_.lines, scratch_.products);
    lines.clear();
    for (const int row : rows)
        if (head_.is_known(row))
            lines.push_back(head_.line(row));
    products.resize(lines.size());
    kernel_->dots(lines.data(), static_cast<int>(lines.size()), head_part_.data(), n, products.data());
    const double* through_line = products.data();
    for (std::size_t k = 0; k < rows.size(); ++k) {
        const int row = rows[k];
        const double* of_row = part_->flexibility().col(row).data();
        const double of_head = head_.is_known(row)
                                   ? *through_line++
                                   : kernel_->gathered_dot(of_row, head_.rows().data(), head_forces().data(), n);
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
