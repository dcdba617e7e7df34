// The whole sparse system, factored anew whenever springs change: slow and simple. The yardstick of CondensedResponse.
//
// The fixture's springs are on means over a panel's metal and would fill the matrix. While they hold a panel, six pins
// hold it in the factor instead, and each solution is put right by the difference (Woodbury 1950):
//   (K + U c^-1 U^T)^-1 = K^-1 - K^-1 U (c + U^T K^-1 U)^-1 U^T K^-1
// with U the fixture's rows, c = 1/k, and the pins, c = -1/k.
#pragma once

#include "distortion/action_levels.h"
#include "distortion/response.h"

#include <Eigen/LU>

#include <map>

namespace holdtrue::distortion {

class FullResponse final : public Response {
public:
    explicit FullResponse(const PartModel& model);

    int add_loads(std::span<const std::pair<int, double>> loads) override;
    int add_heat() override;
    void replace_heat(int action, const StepHeat& heat) override;
    void set_level(int action, double level) override;
    void begin_ramp(std::span<const std::pair<int, double>> steps) override { levels_.begin_ramp(steps); }
    void ramp_to(double share) override;
    void tie(std::span<const int> rows, std::span<const double> offsets) override;
    void fix(std::span<const int> rows, std::span<const double> offsets) override;
    void release(std::span<const int> rows) override;
    std::vector<double> values(std::span<const int> rows, Asked asked) override;
    double force(int row) override;
    void keep() override;
    std::vector<Eigen::VectorXd> displacements() override { return kept_; }

    int factorisations() const { return factorisations_; }

private:
    struct Action {
        Eigen::VectorXd load, row_shift; // of unknowns; of rows, by offsets that grow
    };
    void solve();
    void factor();

    const PartModel& model_;
    SparseMatrix stiffness_;
    std::vector<Action> actions_;
    ActionLevels levels_;
    std::map<int, double> springs_;               // row, offset
    SparseFactor factor_;                         // K, pinned where the fixture holds
    SparseMatrix instead_;                        // U
    Columns through_instead_;                     // K^-1 U
    Eigen::PartialPivLU<Eigen::MatrixXd> change_; // of c + U^T K^-1 U
    bool factored_ = false, solved_ = false;
    int factorisations_ = 0;
    Eigen::VectorXd displacement_, row_shift_;
    std::vector<Eigen::VectorXd> kept_;
};

} // namespace holdtrue::distortion
