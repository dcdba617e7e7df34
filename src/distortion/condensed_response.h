// Answers of a condensed part. With active springs A (stiffness k, offset o, force s = k (value - o)):
//   value  = free - C s + R a            free: what the actions do to the untied, held panels
//   (C_AA + 1/k) s - R_A a = free_A - o  R_A^T s + ground a = 0
// The first matrix is factored as L L^T, one row more for each new spring; a release redoes only the rows after it.
#pragma once

#include "distortion/condensed_part.h"
#include "distortion/response.h"

namespace holdtrue::distortion {

class CondensedResponse final : public Response {
public:
    explicit CondensedResponse(const CondensedPart& part); // must outlive it

    int add_loads(std::span<const std::pair<int, double>> loads) override;
    int add_thermal(const Eigen::VectorXd& strain_of_node) override;
    void replace_thermal(int action, const Eigen::VectorXd& strain_of_node) override;
    void set_level(int action, double level) override;
    void fix(int row, double offset) override;
    void set_offset(int row, double offset) override;
    void release(int row) override;
    double value(int row) override;
    double force(int row) override;
    void keep() override;
    std::vector<Eigen::VectorXd> displacements() override;

private:
    struct Action {
        Eigen::VectorXd of_rows;
        double level = 0;
        // For displacements(): what the action is made of.
        std::vector<std::pair<int, double>> loads;
        Eigen::VectorXd strain_of_node;
    };
    void append(int row);
    void solve();

    const CondensedPart& part_;
    const PartModel& model_;
    std::vector<Action> actions_;
    Eigen::VectorXd free_; // of all rows: sum of level times action

    std::vector<int> active_;                 // rows with a spring, in the order of the factor
    std::vector<int> place_;                  // of each row in active_, or -1
    std::vector<double> offset_;              // of each row
    std::vector<std::vector<double>> factor_; // row i of L: i + 1 entries
    std::vector<Eigen::VectorXd> swept_;      // row i of L^-1 R_A
    Eigen::MatrixXd swept_square_;            // sum of swept swept^T, lower triangle
    bool solved_ = false;
    std::vector<double> forces_; // of active_
    Eigen::VectorXd motion_;     // a

    std::vector<Eigen::VectorXd> kept_load_, kept_motion_;
};

} // namespace holdtrue::distortion
