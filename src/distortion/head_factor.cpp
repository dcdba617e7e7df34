#include "distortion/head_factor.h"

#include "text/verify.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::distortion {

HeadFactor::HeadFactor(const CondensedPart& part)
    : part_(&part), kernel_(&best_dense_kernel()), tied_(static_cast<std::size_t>(model().row_count()), 0) {
    std::size_t most = 0; // rows that can be tied
    for (const WeldGroup& group : model().groups())
        most += static_cast<std::size_t>(group.tie_count);
    stride_ = (most + 7) / 8 * 8;
    known_.assign(static_cast<std::size_t>(motion(static_cast<int>(part.motions().cols()))), 0);
}

HeadFactor::HeadFactor(const HeadFactor& other)
    : part_(other.part_), kernel_(other.kernel_), rows_(other.rows_), by_pivot_(other.by_pivot_), tied_(other.tied_),
      known_(other.known_), stride_(other.stride_), lines_(other.lines_) {}

HeadFactor& HeadFactor::operator=(const HeadFactor& other) {
    VERIFY(part_ == other.part_, "lines of one part have one shape");
    rows_ = other.rows_;
    by_pivot_ = other.by_pivot_;
    tied_ = other.tied_;
    known_ = other.known_;
    lines_ = other.lines_;
    owns_lines_ = owns_lines_ && this == &other;
    return *this;
}

void HeadFactor::take_own_lines() {
    if (owns_lines_)
        return;
    const std::shared_ptr<double[]> shared = std::move(lines_);
    lines_ = std::make_shared_for_overwrite<double[]>(known_.size() * stride_);
    for (std::size_t line = 0; shared && line < known_.size(); ++line)
        std::copy_n(shared.get() + line * stride_, known_[line], lines_.get() + line * stride_);
    owns_lines_ = true;
}

void HeadFactor::tie(std::span<const int> rows) {
    take_own_lines();
    grow(rows);
    for (const int row : rows) {
        const auto of_row = part_->flexibility().col(row);
        double* own = own_line(row);
        int& known = known_[static_cast<std::size_t>(row)];
        for (; known < size(); ++known) { // against those tied with it
            const int other = rows_[static_cast<std::size_t>(known)];
            own[known] =
                (of_row[other] - kernel_->dot(own, line(other), known)) * by_pivot_[static_cast<std::size_t>(known)];
        }
        const double square = of_row[row] + 1 / model().spring(row) - kernel_->dot(own, own, known);
        VERIFY(square > 0, "springs do not repeat each other");
        own[known++] = std::sqrt(square);
        by_pivot_.push_back(1 / std::sqrt(square));
        tied_[static_cast<std::size_t>(row)] = 1;
        rows_.push_back(row);
    }
}

void HeadFactor::grow(std::span<const int> lines) {
    behind_.assign(lines.begin(), lines.end());
    const auto known = [&](int line) { return known_[static_cast<std::size_t>(line)]; };
    std::erase_if(behind_, [&](int line) { return known(line) == size(); });
    if (!std::ranges::is_sorted(behind_, {}, known))
        std::ranges::stable_sort(behind_, {}, known);
    // Those furthest behind catch up with the next, then go on together.
    for (std::size_t together = 0; together < behind_.size();) {
        const int from = known(behind_[together]);
        while (together < behind_.size() && known(behind_[together]) == from)
            ++together;
        advance({behind_.data(), together}, from, together < behind_.size() ? known(behind_[together]) : size());
    }
}

HeadFactor::Column HeadFactor::column(int line) const {
    const int motion = line - model().row_count();
    if (motion < 0)
        return {part_->flexibility().col(line).data(), 1};
    return {part_->motions().data() + motion, part_->motions().cols()};
}

void HeadFactor::advance(std::span<const int> lines, int from, int to) {
    take_own_lines();
    of_lines_.clear();
    for (const int line : lines)
        of_lines_.push_back(this->line(line));
    constexpr int block = 4;
    products_.resize(block * lines.size());
    for (int before = from; before < to; before += block) {
        const int count = std::min(block, to - before);
        std::array<const double*, block> own{};
        for (int j = 0; j < count; ++j)
            own[static_cast<std::size_t>(j)] = line(rows_[static_cast<std::size_t>(before + j)]);
        kernel_->products(of_lines_.data(), static_cast<int>(lines.size()), own.data(), count, before,
                          products_.data());
        for (std::size_t w = 0; w < lines.size(); ++w) {
            const auto [of_rows, apart] = column(lines[w]);
            double* grows = own_line(lines[w]) + before;
            for (int j = 0; j < count; ++j) {
                const auto at = static_cast<std::size_t>(j);
                double value =
                    of_rows[rows_[static_cast<std::size_t>(before + j)] * apart] - products_[at * lines.size() + w];
                for (int i = 0; i < j; ++i)
                    value -= grows[i] * own[at][before + i];
                grows[j] = value * by_pivot_[static_cast<std::size_t>(before + j)];
            }
        }
    }
    for (const int line : lines)
        known_[static_cast<std::size_t>(line)] = to;
}

// Four at a time: first what the entries known before leave of them, then what they leave of each other.
void HeadFactor::extend(std::vector<double>& line, const Eigen::VectorXd& of_rows,
                        const Eigen::VectorXd& offset) const {
    std::size_t done = line.size();
    line.resize(rows_.size());
    while (done < rows_.size()) {
        const std::size_t block = std::min<std::size_t>(4, rows_.size() - done);
        std::array<const double*, 4> own{};
        for (std::size_t j = 0; j < block; ++j)
            own[j] = this->line(rows_[done + j]);
        std::array<double, 4> through{};
        kernel_->dots(own.data(), static_cast<int>(block), line.data(), static_cast<int>(done), through.data());
        for (std::size_t j = 0; j < block; ++j) {
            const int row = rows_[done + j];
            double value = of_rows[row] - offset[row] - through[j];
            for (std::size_t i = 0; i < j; ++i)
                value -= own[j][done + i] * line[done + i];
            line[done + j] = value * by_pivot_[done + j];
        }
        done += block;
    }
}

void HeadFactor::solve_transposed(std::vector<double>& line) const {
    for (int i = size(); i-- > 0;) {
        const double* own = this->line(rows_[static_cast<std::size_t>(i)]);
        double& value = line[static_cast<std::size_t>(i)];
        value *= by_pivot_[static_cast<std::size_t>(i)];
        kernel_->add(line.data(), -value, own, i);
    }
}

} // namespace holdtrue::distortion
