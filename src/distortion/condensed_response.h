// Answers of a condensed part: actions are vectors of rows, springs a factor (spring_factor.h).
//   value = free - C s + R a,  free: what the actions do to the untied, held panels
#pragma once

#include "distortion/action_levels.h"
#include "distortion/response.h"
#include "distortion/spring_factor.h"

namespace holdtrue::distortion {

// Copies go on by themselves from the state they were taken in.
class CondensedResponse final : public Response {
public:
    explicit CondensedResponse(const CondensedPart& part); // must outlive it

    int add_loads(std::span<const std::pair<int, double>> loads) override;
    int add_heat() override;
    void replace_heat(int action, const StepHeat& heat) override;
    void set_level(int action, double level) override;
    void begin_ramp(std::span<const std::pair<int, double>> level_steps) override;
    void ramp_to(double share) override;
    void tie(std::span<const int> rows, std::span<const double> offsets) override;
    void fix(std::span<const int> rows, std::span<const double> offsets) override;
    void release(std::span<const int> rows) override;
    std::vector<double> values(std::span<const int> rows, Asked asked) override;
    double force(int row) override;
    void keep() override;
    std::vector<Eigen::VectorXd> displacements() override;

private:
    const PartModel& model() const { return part_->model(); }

    struct Action {
        Eigen::VectorXd of_rows;
        // For keep(): what the action is made of.
        std::vector<std::pair<int, double>> loads;
        const StepHeat* heat = nullptr;
    };
    void solve();
    void load_changed();
    void add_columns(Eigen::VectorXd& sum) const;
    void add(Eigen::VectorXd& sum, double factor, const Eigen::VectorXd& vector) const;

    const CondensedPart* part_;
    const DenseKernel* kernel_;
    std::vector<std::shared_ptr<const Action>> actions_;
    ActionLevels levels_;
    SpringFactor springs_;
    // Of all rows: what the actions do, what the whole of the ramp does, and the offsets of the springs.
    Eigen::VectorXd free_, ramp_, offset_;
    std::vector<double> line_; // of free - offset by the springs' head, as far as it is known
    bool solved_ = false;

    std::vector<double> factors_; // scratch: a sum to be made
    std::vector<const double*> columns_;

    std::vector<Eigen::VectorXd> kept_load_, kept_motion_;
};

} // namespace holdtrue::distortion
