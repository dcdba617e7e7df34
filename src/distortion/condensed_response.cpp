#include "distortion/condensed_response.h"

#include "text/verify.h"

#include <Eigen/Cholesky>

#include <cmath>

namespace holdtrue::distortion {

namespace {

double dot(const double* a, const double* b, std::size_t count) {
    return Eigen::Map<const Eigen::VectorXd>(a, static_cast<Eigen::Index>(count))
        .dot(Eigen::Map<const Eigen::VectorXd>(b, static_cast<Eigen::Index>(count)));
}

} // namespace

CondensedResponse::CondensedResponse(const CondensedPart& part)
    : part_(part), model_(part.model()), free_(Eigen::VectorXd::Zero(model_.row_count())),
      place_(static_cast<std::size_t>(model_.row_count()), -1),
      offset_(static_cast<std::size_t>(model_.row_count()), 0),
      swept_square_(Eigen::MatrixXd::Zero(part.motions().cols(), part.motions().cols())),
      motion_(Eigen::VectorXd::Zero(part.motions().cols())) {}

int CondensedResponse::add_loads(std::span<const std::pair<int, double>> loads) {
    Action action{Eigen::VectorXd::Zero(model_.row_count()), 0, {loads.begin(), loads.end()}, {}};
    for (const auto& [load, factor] : loads)
        action.of_rows += factor * part_.of_loads().col(load);
    actions_.push_back(std::move(action));
    return static_cast<int>(actions_.size()) - 1;
}

int CondensedResponse::add_thermal(const Eigen::VectorXd& strain_of_node) {
    actions_.push_back({part_.of_strains() * strain_of_node, 0, {}, strain_of_node});
    return static_cast<int>(actions_.size()) - 1;
}

void CondensedResponse::replace_thermal(int action, const Eigen::VectorXd& strain_of_node) {
    set_level(action, 0);
    actions_[static_cast<std::size_t>(action)] = {part_.of_strains() * strain_of_node, 0, {}, strain_of_node};
}

void CondensedResponse::set_level(int action, double level) {
    Action& changed = actions_[static_cast<std::size_t>(action)];
    if (level == changed.level)
        return;
    free_ += (level - changed.level) * changed.of_rows;
    changed.level = level;
    solved_ = false;
}

void CondensedResponse::append(int row) {
    const std::size_t n = active_.size();
    const double* flexibility = part_.flexibility().col(row).data();
    std::vector<double> entry(n + 1);
    Eigen::VectorXd swept = part_.motions().row(row).transpose();
    for (std::size_t i = 0; i < n; ++i) {
        entry[i] = (flexibility[active_[i]] - dot(factor_[i].data(), entry.data(), i)) / factor_[i][i];
        swept -= entry[i] * swept_[i];
    }
    const double pivot = flexibility[row] + 1 / model_.spring(row) - dot(entry.data(), entry.data(), n);
    VERIFY(pivot > 0, "springs do not repeat each other");
    entry[n] = std::sqrt(pivot);
    swept /= entry[n];
    swept_square_.selfadjointView<Eigen::Lower>().rankUpdate(swept);
    factor_.push_back(std::move(entry));
    swept_.push_back(std::move(swept));
    place_[static_cast<std::size_t>(row)] = static_cast<int>(n);
    active_.push_back(row);
    solved_ = false;
}

void CondensedResponse::fix(int row, double offset) {
    VERIFY(model_.spring(row) > 0, "only rows with a spring can be fixed");
    VERIFY(place_[static_cast<std::size_t>(row)] < 0, "a row is fixed once");
    offset_[static_cast<std::size_t>(row)] = offset;
    append(row);
}

void CondensedResponse::set_offset(int row, double offset) {
    offset_[static_cast<std::size_t>(row)] = offset;
    solved_ = false;
}

void CondensedResponse::release(int row) {
    const int at = place_[static_cast<std::size_t>(row)];
    VERIFY(at >= 0, "only a fixed row can be released");
    const std::vector<int> after(active_.begin() + at + 1, active_.end());
    place_[static_cast<std::size_t>(row)] = -1;
    active_.resize(static_cast<std::size_t>(at));
    factor_.resize(static_cast<std::size_t>(at));
    for (std::size_t i = static_cast<std::size_t>(at); i < swept_.size(); ++i)
        swept_square_.selfadjointView<Eigen::Lower>().rankUpdate(swept_[i], -1);
    swept_.resize(static_cast<std::size_t>(at));
    for (const int kept : after)
        append(kept);
    solved_ = false;
}

void CondensedResponse::solve() {
    if (solved_)
        return;
    const std::size_t n = active_.size();
    const Eigen::Index motions = motion_.size();
    std::vector<double> y(n);
    Eigen::MatrixXd held = swept_square_;
    held.diagonal().array() += model_.ground_n_per_m();
    Eigen::VectorXd pull = Eigen::VectorXd::Zero(motions);
    for (std::size_t i = 0; i < n; ++i) {
        const int row = active_[i];
        const double out = free_[row] - offset_[static_cast<std::size_t>(row)];
        y[i] = (out - dot(factor_[i].data(), y.data(), i)) / factor_[i][i];
        pull -= y[i] * swept_[i];
    }
    motion_ = held.selfadjointView<Eigen::Lower>().ldlt().solve(pull);
    for (std::size_t i = 0; i < n; ++i)
        y[i] += swept_[i].dot(motion_);
    for (std::size_t i = n; i-- > 0;) {
        y[i] /= factor_[i][i];
        Eigen::Map<Eigen::VectorXd>(y.data(), static_cast<Eigen::Index>(i)) -=
            y[i] * Eigen::Map<const Eigen::VectorXd>(factor_[i].data(), static_cast<Eigen::Index>(i));
    }
    forces_ = std::move(y);
    solved_ = true;
}

double CondensedResponse::value(int row) {
    solve();
    const double* flexibility = part_.flexibility().col(row).data();
    double sum = free_[row] + part_.motions().row(row).dot(motion_);
    for (std::size_t i = 0; i < active_.size(); ++i)
        sum -= flexibility[active_[i]] * forces_[i];
    return sum;
}

double CondensedResponse::force(int row) {
    solve();
    return forces_[static_cast<std::size_t>(place_[static_cast<std::size_t>(row)])];
}

void CondensedResponse::keep() {
    solve();
    Eigen::VectorXd load = Eigen::VectorXd::Zero(model_.shell().unknown_count());
    for (const Action& action : actions_) {
        if (action.level == 0)
            continue;
        for (const auto& [column, factor] : action.loads)
            load += action.level * factor * model_.loads().col(column);
        if (action.strain_of_node.size() > 0)
            load += action.level * model_.thermal_load(action.strain_of_node);
    }
    for (std::size_t i = 0; i < active_.size(); ++i)
        load -= forces_[i] * model_.rows().of_unknowns.row(active_[i]).transpose();
    for (const int held : model_.held_unknowns())
        load[held] = 0;
    kept_load_.push_back(std::move(load));
    kept_motion_.push_back(motion_);
}

std::vector<Eigen::VectorXd> CondensedResponse::displacements() {
    Columns columns(model_.shell().unknown_count(), static_cast<Eigen::Index>(kept_load_.size()));
    for (std::size_t k = 0; k < kept_load_.size(); ++k)
        columns.col(static_cast<Eigen::Index>(k)) = kept_load_[k];
    part_.factor().solve_in_place(columns);
    std::vector<Eigen::VectorXd> all;
    for (std::size_t k = 0; k < kept_load_.size(); ++k)
        all.push_back(columns.col(static_cast<Eigen::Index>(k)) + model_.motions() * kept_motion_[k]);
    return all;
}

} // namespace holdtrue::distortion
