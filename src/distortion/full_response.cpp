#include "distortion/full_response.h"

#include "text/verify.h"

namespace holdtrue::distortion {

FullResponse::FullResponse(const PartModel& model) : model_(model), stiffness_(model.free_stiffness()) {}

int FullResponse::add_loads(std::span<const std::pair<int, double>> loads) {
    Action action{Eigen::VectorXd::Zero(stiffness_.rows()), Eigen::VectorXd::Zero(model_.row_count())};
    for (const auto& [load, factor] : loads)
        action.load += factor * model_.loads().col(load);
    actions_.push_back(std::move(action));
    return levels_.add();
}

int FullResponse::add_heat() { return add_loads({}); }

void FullResponse::replace_heat(int action, const StepHeat& heat) {
    levels_.set(action, 0);
    actions_[static_cast<std::size_t>(action)] = {model_.thermal_load(heat.strain_of_node),
                                                  model_.rows().of_strains * heat.strain_of_node};
    solved_ = false;
}

void FullResponse::set_level(int action, double level) {
    levels_.set(action, level);
    solved_ = false;
}

void FullResponse::ramp_to(double share) {
    levels_.ramp_to(share);
    solved_ = false;
}

void FullResponse::tie(std::span<const int> rows, std::span<const double> offsets) { fix(rows, offsets); }

void FullResponse::fix(std::span<const int> rows, std::span<const double> offsets) {
    for (std::size_t k = 0; k < rows.size(); ++k) {
        VERIFY(model_.spring(rows[k]) > 0, "only rows with a spring can be fixed");
        VERIFY(springs_.emplace(rows[k], offsets[k]).second, "a row is fixed once");
    }
    factored_ = solved_ = false;
}

void FullResponse::release(std::span<const int> rows) {
    for (const int row : rows)
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
    for (std::size_t k = 0; k < actions_.size(); ++k) {
        const double level = levels_.now(static_cast<int>(k));
        if (level == 0)
            continue;
        load += level * actions_[k].load;
        row_shift_ += level * actions_[k].row_shift;
    }
    for (const auto& [row, offset] : springs_)
        load += model_.spring(row) * (offset - row_shift_[row]) * rows.row(row).transpose();
    displacement_ = factor_.solve(load);
    solved_ = true;
}

std::vector<double> FullResponse::values(std::span<const int> rows, Asked) {
    solve();
    std::vector<double> values;
    for (const int row : rows)
        values.push_back(model_.rows().of_unknowns.row(row).dot(displacement_) + row_shift_[row]);
    return values;
}

double FullResponse::force(int row) { return model_.spring(row) * (value(row) - springs_.at(row)); }

void FullResponse::keep() {
    solve();
    kept_.push_back(displacement_);
}

} // namespace holdtrue::distortion
