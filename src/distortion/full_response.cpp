#include "distortion/full_response.h"

#include "text/verify.h"

namespace holdtrue::distortion {

FullResponse::FullResponse(const PartModel& model) : model_(model), stiffness_(model.free_stiffness()) {}

int FullResponse::add_loads(std::span<const std::pair<int, double>> loads) {
    Action action{Eigen::VectorXd::Zero(stiffness_.rows()), Eigen::VectorXd::Zero(model_.row_count()), 0};
    for (const auto& [load, factor] : loads)
        action.load += factor * model_.loads().col(load);
    actions_.push_back(std::move(action));
    return static_cast<int>(actions_.size()) - 1;
}

int FullResponse::add_thermal(const Eigen::VectorXd& strain_of_node) {
    actions_.emplace_back();
    const int action = static_cast<int>(actions_.size()) - 1;
    replace_thermal(action, strain_of_node);
    return action;
}

void FullResponse::replace_thermal(int action, const Eigen::VectorXd& strain_of_node) {
    actions_[static_cast<std::size_t>(action)] = {model_.thermal_load(strain_of_node),
                                                  model_.rows().of_strains * strain_of_node, 0};
    solved_ = false;
}

void FullResponse::set_level(int action, double level) {
    actions_[static_cast<std::size_t>(action)].level = level;
    solved_ = false;
}

void FullResponse::fix(int row, double offset) {
    VERIFY(model_.spring(row) > 0, "only rows with a spring can be fixed");
    VERIFY(springs_.emplace(row, offset).second, "a row is fixed once");
    factored_ = solved_ = false;
}

void FullResponse::set_offset(int row, double offset) {
    springs_.at(row) = offset;
    solved_ = false;
}

void FullResponse::release(int row) {
    VERIFY(springs_.erase(row) == 1, "only a fixed row can be released");
    factored_ = solved_ = false;
}

void FullResponse::solve() {
    if (solved_)
        return;
    const auto& rows = model_.rows().of_unknowns;
    if (!factored_) {
        std::vector<Eigen::Triplet<double, int>> scale;
        for (const auto& [row, offset] : springs_)
            scale.emplace_back(row, row, model_.spring(row));
        SparseMatrix springs(model_.row_count(), model_.row_count());
        springs.setFromTriplets(scale.begin(), scale.end());
        const SparseMatrix columns = rows;
        factor_ = SparseFactor(SparseMatrix(stiffness_ + SparseMatrix(columns.transpose() * springs * columns)));
        VERIFY(factor_.ok(), "the ground springs hold every panel");
        factored_ = true;
        ++factorisations_;
    }
    Eigen::VectorXd load = Eigen::VectorXd::Zero(stiffness_.rows());
    row_shift_ = Eigen::VectorXd::Zero(model_.row_count());
    for (const Action& action : actions_) {
        if (action.level == 0)
            continue;
        load += action.level * action.load;
        row_shift_ += action.level * action.row_shift;
    }
    for (const auto& [row, offset] : springs_)
        load += model_.spring(row) * (offset - row_shift_[row]) * rows.row(row).transpose();
    displacement_ = factor_.solve(load);
    solved_ = true;
}

double FullResponse::value(int row) {
    solve();
    return model_.rows().of_unknowns.row(row).dot(displacement_) + row_shift_[row];
}

double FullResponse::force(int row) { return model_.spring(row) * (value(row) - springs_.at(row)); }

void FullResponse::keep() {
    solve();
    kept_.push_back(displacement_);
}

} // namespace holdtrue::distortion
