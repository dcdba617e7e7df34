#include "distortion/condensed_response.h"

namespace holdtrue::distortion {

CondensedResponse::CondensedResponse(const CondensedPart& part)
    : part_(&part), kernel_(&best_dense_kernel()), springs_(part), free_(Eigen::VectorXd::Zero(model().row_count())),
      ramp_(free_), offset_(free_) {}

int CondensedResponse::add_loads(std::span<const std::pair<int, double>> loads) {
    Action action;
    action.of_rows = Eigen::VectorXd::Zero(model().row_count());
    action.loads.assign(loads.begin(), loads.end());
    factors_.clear(), columns_.clear();
    for (const auto& [load, factor] : loads)
        if (factor != 0) {
            factors_.push_back(factor);
            columns_.push_back(part_->of_loads().col(load).data());
        }
    add_columns(action.of_rows);
    actions_.push_back(std::make_shared<const Action>(std::move(action)));
    return levels_.add();
}

// Of factors_ and columns_.
void CondensedResponse::add_columns(Eigen::VectorXd& sum) const {
    kernel_->add_columns(sum.data(), factors_.data(), columns_.data(), static_cast<int>(columns_.size()),
                         static_cast<int>(sum.size()));
}

void CondensedResponse::add(Eigen::VectorXd& sum, double factor, const Eigen::VectorXd& vector) const {
    kernel_->add(sum.data(), factor, vector.data(), static_cast<int>(sum.size()));
}

int CondensedResponse::add_heat() { return add_loads({}); }

void CondensedResponse::replace_heat(int action, const StepHeat& heat) {
    set_level(action, 0);
    Action changed;
    changed.heat = &heat;
    if (heat.of_rows.size() > 0)
        changed.of_rows = heat.of_rows;
    else
        changed.of_rows.noalias() = part_->of_strains() * heat.strain_of_node;
    actions_[static_cast<std::size_t>(action)] = std::make_shared<const Action>(std::move(changed));
}

void CondensedResponse::load_changed() {
    line_.clear();
    solved_ = false;
}

void CondensedResponse::set_level(int action, double level) {
    const double change = levels_.set(action, level);
    if (change == 0)
        return;
    add(free_, change, actions_[static_cast<std::size_t>(action)]->of_rows);
    load_changed();
}

void CondensedResponse::begin_ramp(std::span<const std::pair<int, double>> level_steps) {
    levels_.begin_ramp(level_steps);
    ramp_.setZero();
    factors_.clear(), columns_.clear();
    for (const auto& [action, step] : level_steps)
        if (step != 0) {
            factors_.push_back(step);
            columns_.push_back(actions_[static_cast<std::size_t>(action)]->of_rows.data());
        }
    add_columns(ramp_);
}

void CondensedResponse::ramp_to(double share) {
    const double grown = levels_.ramp_to(share);
    if (grown == 0)
        return;
    add(free_, grown, ramp_);
    load_changed();
}

void CondensedResponse::tie(std::span<const int> rows, std::span<const double> offsets) {
    offset_(rows) = Eigen::Map<const Eigen::VectorXd>(offsets.data(), std::ssize(offsets));
    springs_.add_lasting(rows);
    solved_ = false;
}

void CondensedResponse::fix(std::span<const int> rows, std::span<const double> offsets) {
    offset_(rows) = Eigen::Map<const Eigen::VectorXd>(offsets.data(), std::ssize(offsets));
    springs_.add_passing(rows);
    solved_ = false;
}

void CondensedResponse::release(std::span<const int> rows) {
    springs_.remove_passing(rows);
    solved_ = false;
}

void CondensedResponse::solve() {
    if (solved_)
        return;
    springs_.head().extend(line_, free_, offset_);
    springs_.solve(free_, offset_, line_);
    solved_ = true;
}

std::vector<double> CondensedResponse::values(std::span<const int> rows, Asked asked) {
    std::vector<double> values(rows.size());
    if (!rows.empty()) {
        solve();
        if (asked == Asked::often)
            springs_.grow(rows);
        springs_.values(rows, free_, values);
    }
    return values;
}

double CondensedResponse::force(int row) {
    solve();
    return springs_.force(row);
}

void CondensedResponse::keep() {
    solve();
    Eigen::VectorXd load = Eigen::VectorXd::Zero(model().shell().unknown_count());
    for (std::size_t k = 0; k < actions_.size(); ++k) {
        const Action& action = *actions_[k];
        const double level = levels_.now(static_cast<int>(k));
        if (level == 0)
            continue;
        for (const auto& [column, factor] : action.loads)
            load += level * factor * model().loads().col(column);
        if (action.heat)
            load += level * model().thermal_load(action.heat->strain_of_node);
    }
    Eigen::VectorXd forces = Eigen::VectorXd::Zero(model().row_count());
    springs_.add_forces(forces);
    load -= model().rows().of_unknowns.transpose() * forces;
    for (const int held : model().held_unknowns())
        load[held] = 0;
    kept_load_.push_back(std::move(load));
    kept_motion_.push_back(springs_.motion());
}

std::vector<Eigen::VectorXd> CondensedResponse::displacements() {
    Columns columns(model().shell().unknown_count(), static_cast<Eigen::Index>(kept_load_.size()));
    for (std::size_t k = 0; k < kept_load_.size(); ++k)
        columns.col(static_cast<Eigen::Index>(k)) = kept_load_[k];
    part_->factor().solve_in_place(columns);
    std::vector<Eigen::VectorXd> all;
    for (std::size_t k = 0; k < kept_load_.size(); ++k)
        all.push_back(columns.col(static_cast<Eigen::Index>(k)) + model().motions() * kept_motion_[k]);
    return all;
}

} // namespace holdtrue::distortion
