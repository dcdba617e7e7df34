#include "distortion/head_factor.h"

#include "text/verify.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace holdtrue::distortion {

HeadFactor::HeadFactor(const CondensedPart& part)
    : part_(part), model_(part.model()), kernel_(best_dense_kernel()),
      has_line_(static_cast<std::size_t>(model_.row_count()), 0),
      place_(static_cast<std::size_t>(model_.row_count()), 0) {
    for (int row = 0; row < model_.row_count(); ++row)
        if (model_.spring(row) > 0)
            growing_.push_back(row);
    std::size_t most = 0; // rows that can be held for good
    for (const WeldGroup& group : model_.groups()) {
        growing_.push_back(group.strain);
        most += static_cast<std::size_t>(group.tie_count);
    }
    stride_ = (most + 7) / 8 * 8;
    std::size_t place = 0;
    for (const int row : growing_) {
        has_line_[static_cast<std::size_t>(row)] = 1;
        place_[static_cast<std::size_t>(row)] = std::exchange(place, place + stride_);
    }
    motions_place_ = place;
    lines_.resize(place + static_cast<std::size_t>(part.motions().cols()) * stride_);
}

void HeadFactor::forget(int row) {
    std::erase(growing_, row);
    has_line_[static_cast<std::size_t>(row)] = 0;
}

// Among themselves, behind what the rows tied before have left of them.
void HeadFactor::add_pivots(std::span<const int> rows) {
    const int before = size();
    for (std::size_t j = 0; j < rows.size(); ++j) {
        const auto of_row = part_.flexibility().col(rows[j]);
        double* own = own_line(rows[j]);
        for (std::size_t i = 0; i < j; ++i) {
            const int done = before + static_cast<int>(i);
            own[done] = (of_row[rows[i]] - kernel_.dot(own, line(rows[i]), done)) / line(rows[i])[done];
        }
        const int place = before + static_cast<int>(j);
        const double square = of_row[rows[j]] + 1 / model_.spring(rows[j]) - kernel_.dot(own, own, place);
        VERIFY(square > 0, "springs do not repeat each other");
        own[place] = std::sqrt(square);
    }
}

void HeadFactor::add(std::span<const int> rows) {
    const int before = size(), count = static_cast<int>(rows.size());
    const int motions = static_cast<int>(part_.motions().cols());
    std::erase_if(growing_, [&](int row) { return std::ranges::find(rows, row) != rows.end(); });
    add_pivots(rows);

    of_lines_.clear();
    for (const int row : growing_)
        of_lines_.push_back(line(row));
    for (int k = 0; k < motions; ++k)
        of_lines_.push_back(motion_line(k));
    of_rows_.clear();
    for (const int row : rows)
        of_rows_.push_back(line(row));
    const std::size_t lines = of_lines_.size();
    products_.resize(lines * rows.size());
    kernel_.products(of_lines_.data(), static_cast<int>(lines), of_rows_.data(), count, before, products_.data());

    for (int j = 0; j < count; ++j) {
        const double* own = of_rows_[static_cast<std::size_t>(j)] + before;
        const auto of_row = part_.flexibility().col(rows[static_cast<std::size_t>(j)]);
        const double* through_head = products_.data() + static_cast<std::size_t>(j) * lines;
        const auto finish = [&](double* line, double value) {
            value -= *through_head++;
            for (int i = 0; i < j; ++i)
                value -= line[before + i] * own[i];
            line[before + j] = value / own[j];
        };
        for (const int row : growing_)
            finish(own_line(row), of_row[row]);
        for (int k = 0; k < motions; ++k)
            finish(lines_.data() + motion_place(k), part_.motions()(rows[static_cast<std::size_t>(j)], k));
    }
    rows_.insert(rows_.end(), rows.begin(), rows.end());
}

// Four at a time: first what the entries known before leave of them, then what they leave of each other.
template <class ValueOf>
void HeadFactor::go_on(std::vector<double>& line, const ValueOf& value_of) const {
    std::size_t done = line.size();
    line.resize(rows_.size());
    while (done < rows_.size()) {
        const std::size_t block = std::min<std::size_t>(4, rows_.size() - done);
        std::array<const double*, 4> own{};
        for (std::size_t j = 0; j < block; ++j)
            own[j] = this->line(rows_[done + j]);
        std::array<double, 4> through{};
        kernel_.dots(own.data(), static_cast<int>(block), line.data(), static_cast<int>(done), through.data());
        for (std::size_t j = 0; j < block; ++j) {
            double value = value_of(rows_[done + j]) - through[j];
            for (std::size_t i = 0; i < j; ++i)
                value -= own[j][done + i] * line[done + i];
            line[done + j] = value / own[j][done + j];
        }
        done += block;
    }
}

void HeadFactor::extend(std::vector<double>& line, const Eigen::VectorXd& of_rows) const {
    go_on(line, [&](int row) { return of_rows[row]; });
}

void HeadFactor::extend(std::vector<double>& line, const Eigen::VectorXd& of_rows,
                        const Eigen::VectorXd& offset) const {
    go_on(line, [&](int row) { return of_rows[row] - offset[row]; });
}

void HeadFactor::solve_transposed(std::vector<double>& line) const {
    for (int i = size(); i-- > 0;) {
        const double* own = this->line(rows_[static_cast<std::size_t>(i)]);
        double& value = line[static_cast<std::size_t>(i)];
        value /= own[i];
        kernel_.add(line.data(), -value, own, i);
    }
}

} // namespace holdtrue::distortion
