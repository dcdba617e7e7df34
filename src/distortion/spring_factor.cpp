#include "distortion/spring_factor.h"

#include "text/verify.h"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {

namespace {

int padded(int count) { return (count + 7) / 8 * 8; }

} // namespace

SpringFactor::SpringFactor(const CondensedPart& part)
    : part_(part), model_(part.model()), kernel_(best_dense_kernel()),
      slot_(static_cast<std::size_t>(model_.row_count()), -1) {
    const auto watch = [&](int row) {
        slot_[static_cast<std::size_t>(row)] = static_cast<int>(watched_rows_.size());
        watched_rows_.push_back(row);
    };
    int springs = 0;
    for (int row = 0; row < model_.row_count(); ++row)
        if (model_.spring(row) > 0)
            ++springs;
    for (const WeldGroup& group : model_.groups()) {
        watch(group.strain);
        if (group.kind != part::PassKind::tack)
            watch(group.opening());
        else
            for (int k = 0; k < group.tie_count; ++k)
                watch(group.first_tie + k);
    }
    for (std::size_t c = 0; c < model_.part().clamps.size(); ++c)
        for (const int row : model_.clamp_rows(static_cast<int>(c)))
            watch(row);
    for (std::size_t p = 0; p < model_.part().panels.size(); ++p)
        for (int k = 0; k < 6; ++k)
            watch(model_.panel_row(static_cast<int>(p)) + k);

    const int motions = static_cast<int>(part.motions().cols());
    head_stride_ = padded(springs);
    motion_stride_ = padded(motions);
    const auto stride = static_cast<std::size_t>(head_stride_);
    watched_.assign(watched_rows_.size() * stride, 0);
    motion_square_ = Eigen::MatrixXd::Zero(motions, motions);
    motion_square_.diagonal().array() += model_.ground_n_per_m();
    motion_ = Eigen::VectorXd::Zero(motions);
}

void SpringFactor::add_lasting(int row) {
    const int n = static_cast<int>(lasting_.size());
    head_.resize(static_cast<std::size_t>(n + 1) * static_cast<std::size_t>(head_stride_));
    head_motion_.resize(static_cast<std::size_t>(n + 1) * static_cast<std::size_t>(motion_stride_));
    double* own = head_row(n);
    const double* of_row = part_.flexibility().col(row).data();
    if (const int slot = slot_[static_cast<std::size_t>(row)]; slot >= 0)
        std::copy_n(watched_row(slot), n, own);
    else
        for (int i = 0; i < n; ++i)
            own[i] =
                (of_row[lasting_[static_cast<std::size_t>(i)]] - kernel_.dot(head_row(i), own, i)) / head_row(i)[i];
    const double square = of_row[row] + 1 / model_.spring(row) - kernel_.dot(own, own, n);
    VERIFY(square > 0, "springs do not repeat each other");
    const double pivot = own[n] = std::sqrt(square);

    const int motions = static_cast<int>(motion_.size());
    double* of_motion = head_motion(n);
    for (int k = 0; k < motions; ++k)
        of_motion[k] = part_.motions()(row, k);
    for (int i = 0; i < n; ++i)
        kernel_.add(of_motion, -own[i], head_motion(i), motions);
    for (int k = 0; k < motions; ++k)
        of_motion[k] /= pivot;

    forget(row);
    products_.resize(watched_rows_.size());
    lines_.clear();
    for (std::size_t w = 0; w < watched_rows_.size(); ++w)
        lines_.push_back(watched_row(static_cast<int>(w)));
    kernel_.dots(lines_.data(), static_cast<int>(lines_.size()), own, n, products_.data());
    for (std::size_t w = 0; w < watched_rows_.size(); ++w)
        watched_row(static_cast<int>(w))[n] = (of_row[watched_rows_[w]] - products_[w]) / pivot;
    lasting_.push_back(row);

    Vector of_tail;
    for (const int passing : passing_)
        of_tail.push_back(watched_by(passing)[n]);
    take_from_tail(of_tail.data(), of_motion);
}

// Its slot goes to the last watched row.
void SpringFactor::forget(int row) {
    const int slot = slot_[static_cast<std::size_t>(row)];
    if (slot < 0)
        return;
    const int last = watched_rows_.back();
    if (last != row) {
        std::copy_n(watched_by(last), lasting_.size(), watched_row(slot));
        watched_rows_[static_cast<std::size_t>(slot)] = last;
        slot_[static_cast<std::size_t>(last)] = slot;
    }
    watched_rows_.pop_back();
    slot_[static_cast<std::size_t>(row)] = -1;
}

// T T^T loses z z^T, the head's motions gain what the tail's lose.
void SpringFactor::take_from_tail(const double* of_tail, const double* of_motion) {
    const int m = static_cast<int>(passing_.size()), motions = static_cast<int>(motion_.size());
    Vector reach(of_tail, of_tail + m); // T^-1 z
    for (int j = 0; j < m; ++j) {
        reach[static_cast<std::size_t>(j)] /= tail_column(j)[j];
        kernel_.add(reach.data() + j + 1, -reach[static_cast<std::size_t>(j)], tail_column(j) + j + 1, m - j - 1);
    }
    const double left = 1 - kernel_.dot(reach.data(), reach.data(), m);
    VERIFY(left > 0, "a head row leaves every tail row some flexibility");
    double alpha = std::sqrt(left);
    Vector motion(of_motion, of_motion + motions);
    for (int j = 0; j < m; ++j)
        kernel_.add(motion.data(), -reach[static_cast<std::size_t>(j)], tail_motion(j), motions);
    for (double& value : motion)
        value /= alpha;
    const Eigen::Map<const Eigen::VectorXd> gained(motion.data(), motions);
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(gained);
    motion_fresh_ = false;

    Vector given(static_cast<std::size_t>(m), 0);
    for (int j = m - 1; j >= 0; --j) {
        const double norm = std::hypot(alpha, reach[static_cast<std::size_t>(j)]);
        const double c = alpha / norm, s = reach[static_cast<std::size_t>(j)] / norm;
        alpha = norm;
        kernel_.rotate(tail_column(j) + j, given.data() + j, c, s, m - j);
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
    const int n = static_cast<int>(lasting_.size()), m = static_cast<int>(passing_.size());
    if (m == tail_stride_)
        grow_tail();
    const int motions = static_cast<int>(motion_.size());
    const int slot = slot_[static_cast<std::size_t>(row)];
    VERIFY(slot >= 0, "only watched rows can be held for a time");
    const double* of_head = watched_row(slot);
    double square = flexibility(row, row) + 1 / model_.spring(row) - kernel_.dot(of_head, of_head, n);
    Vector own(static_cast<std::size_t>(m));
    for (int j = 0; j < m; ++j) {
        const int other = passing_[static_cast<std::size_t>(j)];
        own[static_cast<std::size_t>(j)] = flexibility(row, other) - kernel_.dot(of_head, watched_by(other), n);
    }
    double* of_motion = tail_motion(m);
    for (int k = 0; k < motions; ++k)
        of_motion[k] = part_.motions()(row, k);
    for (int i = 0; i < n; ++i)
        kernel_.add(of_motion, -of_head[i], head_motion(i), motions);
    for (int j = 0; j < m; ++j) {
        const double entry = own[static_cast<std::size_t>(j)] /= tail_column(j)[j];
        kernel_.add(own.data() + j + 1, -entry, tail_column(j) + j + 1, m - j - 1);
        tail_column(j)[m] = entry;
        kernel_.add(of_motion, -entry, tail_motion(j), motions);
    }
    square -= kernel_.dot(own.data(), own.data(), m);
    VERIFY(square > 0, "springs do not repeat each other");
    const double pivot = std::sqrt(square);
    tail_column(m)[m] = pivot;
    for (int k = 0; k < motions; ++k)
        of_motion[k] /= pivot;
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(Eigen::Map<const Eigen::VectorXd>(of_motion, motions));
    motion_fresh_ = false;
    passing_.push_back(row);
}

void SpringFactor::remove_passing(int row) {
    const auto found = std::find(passing_.begin(), passing_.end(), row);
    VERIFY(found != passing_.end(), "only a row held for a time can be let go");
    const int at = static_cast<int>(found - passing_.begin()), m = static_cast<int>(passing_.size());
    const int motions = static_cast<int>(motion_.size());
    Vector given(tail_column(at), tail_column(at) + m); // what the rows behind had through this one
    Vector motion(tail_motion(at), tail_motion(at) + motions);
    for (int j = at + 1; j < m; ++j) {
        double* column = tail_column(j);
        const double norm = std::hypot(column[j], given[static_cast<std::size_t>(j)]);
        const double c = column[j] / norm, s = -given[static_cast<std::size_t>(j)] / norm;
        kernel_.rotate(column + j, given.data() + j, c, s, m - j);
        kernel_.rotate(tail_motion(j), motion.data(), c, s, motions);
    }
    motion_square_.selfadjointView<Eigen::Lower>().rankUpdate(Eigen::Map<const Eigen::VectorXd>(motion.data(), motions),
                                                              -1);
    motion_fresh_ = false;
    for (int j = 0; j < at; ++j)
        std::copy(tail_column(j) + at + 1, tail_column(j) + m, tail_column(j) + at);
    for (int j = at + 1; j < m; ++j) {
        std::copy(tail_column(j) + j, tail_column(j) + m, tail_column(j - 1) + j - 1);
        std::copy_n(tail_motion(j), motions, tail_motion(j - 1));
    }
    passing_.erase(found);
}

void SpringFactor::factor_motions() {
    if (motion_fresh_)
        return;
    motion_factor_.compute(motion_square_);
    VERIFY(motion_factor_.info() == Eigen::Success, "the ground holds every motion");
    motion_fresh_ = true;
}

void SpringFactor::solve(const Eigen::VectorXd& free, const std::vector<double>& offset) {
    factor_motions();
    const int n = static_cast<int>(lasting_.size()), m = static_cast<int>(passing_.size());
    const int motions = static_cast<int>(motion_.size());
    head_part_.resize(static_cast<std::size_t>(n));
    tail_force_.resize(static_cast<std::size_t>(m));
    double* y = head_part_.data();
    double* p = tail_force_.data();
    motion_.setZero();
    for (int i = 0; i < n; ++i) {
        const int row = lasting_[static_cast<std::size_t>(i)];
        y[i] = (free[row] - offset[static_cast<std::size_t>(row)] - kernel_.dot(head_row(i), y, i)) / head_row(i)[i];
        kernel_.add(motion_.data(), -y[i], head_motion(i), motions);
    }
    lines_.clear();
    for (const int row : passing_)
        lines_.push_back(watched_by(row));
    kernel_.dots(lines_.data(), m, y, n, p);
    for (int j = 0; j < m; ++j) {
        const int row = passing_[static_cast<std::size_t>(j)];
        p[j] = free[row] - offset[static_cast<std::size_t>(row)] - p[j];
    }
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
    for (int i = 0; i < n; ++i)
        y[i] += kernel_.dot(head_motion(i), motion_.data(), motions);
    for (int j = 0; j < m; ++j)
        kernel_.add(y, -p[j], lines_[static_cast<std::size_t>(j)], n);
    head_forces_known_ = false;
}

void SpringFactor::find_head_forces() {
    if (head_forces_known_)
        return;
    head_force_ = head_part_;
    for (int i = static_cast<int>(lasting_.size()); i-- > 0;) {
        double& force = head_force_[static_cast<std::size_t>(i)];
        force /= head_row(i)[i];
        kernel_.add(head_force_.data(), -force, head_row(i), i);
    }
    head_forces_known_ = true;
}

void SpringFactor::values(std::span<const int> rows, const Eigen::VectorXd& free, std::span<double> values) {
    lines_.clear();
    for (const int row : rows)
        if (slot_[static_cast<std::size_t>(row)] >= 0)
            lines_.push_back(watched_by(row));
        else
            find_head_forces();
    products_.resize(lines_.size());
    kernel_.dots(lines_.data(), static_cast<int>(lines_.size()), head_part_.data(), static_cast<int>(lasting_.size()),
                 products_.data());
    const double* through_head = products_.data();
    for (std::size_t k = 0; k < rows.size(); ++k) {
        const int row = rows[k];
        const double* of_row = part_.flexibility().col(row).data();
        double value =
            free[row] + kernel_.dot(part_.motions().row(row).data(), motion_.data(), static_cast<int>(motion_.size()));
        for (std::size_t j = 0; j < passing_.size(); ++j)
            value -= of_row[passing_[j]] * tail_force_[j];
        if (slot_[static_cast<std::size_t>(row)] >= 0)
            value -= *through_head++;
        else
            for (std::size_t i = 0; i < lasting_.size(); ++i)
                value -= of_row[lasting_[i]] * head_force_[i];
        values[k] = value;
    }
}

double SpringFactor::force(int row) {
    if (const auto found = std::find(passing_.begin(), passing_.end(), row); found != passing_.end())
        return tail_force_[static_cast<std::size_t>(found - passing_.begin())];
    const auto found = std::find(lasting_.begin(), lasting_.end(), row);
    VERIFY(found != lasting_.end(), "only a held row bears force");
    find_head_forces();
    return head_force_[static_cast<std::size_t>(found - lasting_.begin())];
}

void SpringFactor::add_forces(Eigen::VectorXd& of_rows) {
    find_head_forces();
    for (std::size_t i = 0; i < lasting_.size(); ++i)
        of_rows[lasting_[i]] += head_force_[i];
    for (std::size_t j = 0; j < passing_.size(); ++j)
        of_rows[passing_[j]] += tail_force_[j];
}

} // namespace holdtrue::distortion
