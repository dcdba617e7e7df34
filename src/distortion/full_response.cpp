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

void FullResponse::factor() {
    const auto& rows = model_.rows().of_unknowns;
    std::vector<Eigen::Triplet<double, int>> scale, pins, instead;
    std::vector<double> gives; // c
    for (const auto& [row, offset] : springs_) {
        const double stiffness = model_.spring(row);
        if (!model_.is_panel_row(row)) {
            scale.emplace_back(row, row, stiffness);
            continue;
        }
        for (Eigen::SparseMatrix<double, Eigen::RowMajor>::InnerIterator at(rows, row); at; ++at)
            instead.emplace_back(at.col(), std::ssize(gives), at.value());
        gives.push_back(1 / stiffness);
        // As many pins as the panel's means, each as stiff as the one that holds it from shifting.
        const int number = row - model_.panel_row(0), pin = model_.held_unknowns()[static_cast<std::size_t>(number)];
        const double pin_stiffness = model_.spring(model_.panel_row(number / 6));
        pins.emplace_back(pin, pin, pin_stiffness);
        instead.emplace_back(pin, std::ssize(gives), 1.0);
        gives.push_back(-1 / pin_stiffness);
    }
    SparseMatrix springs(model_.row_count(), model_.row_count()), pinned(stiffness_.rows(), stiffness_.cols());
    springs.setFromTriplets(scale.begin(), scale.end());
    pinned.setFromTriplets(pins.begin(), pins.end());
    const SparseMatrix columns = rows;
    factor_ = SparseFactor(SparseMatrix(stiffness_ + pinned + SparseMatrix(columns.transpose() * springs * columns)));
    VERIFY(factor_.ok(), "the ground springs hold every panel");
    instead_ = SparseMatrix(stiffness_.rows(), std::ssize(gives));
    instead_.setFromTriplets(instead.begin(), instead.end());
    through_instead_ = instead_;
    if (!gives.empty()) {
        factor_.solve_in_place(through_instead_);
        Eigen::MatrixXd change = instead_.transpose() * through_instead_;
        change.diagonal() += Eigen::Map<const Eigen::VectorXd>(gives.data(), std::ssize(gives));
        change_.compute(change);
    }
    factored_ = true;
    ++factorisations_;
}

void FullResponse::solve() {
    if (solved_)
        return;
    if (!factored_)
        factor();
    const auto& rows = model_.rows().of_unknowns;
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
    if (instead_.cols() > 0)
        displacement_ -= through_instead_ * change_.solve(instead_.transpose() * displacement_);
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
