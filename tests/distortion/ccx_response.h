// A part whose answers come from CalculiX: Response by decks of bricks (ccx_bricks.h), one run of ccx for every state
// that is asked about.
//
// A row is a dummy node tied to the bricks by *EQUATION; its spring is a SPRING1 on that node, and the value at which
// the spring bears no force is put in as the force k offset. Every run is thus the whole state: ties born free of force
// carry the offset that ccx itself found at their birth. Rows over whole panels (the fixture) would fill the matrix:
// ccx gives the answers to unit forces on them, and their few forces are found from these.
#pragma once

#include "ccx_bricks.h"
#include "distortion/action_levels.h"
#include "distortion/response.h"

#include <filesystem>
#include <map>
#include <set>

namespace holdtrue::distortion::testing {

bool ccx_is_there();

class CcxResponse final : public Response {
public:
    // The model must outlive this.
    explicit CcxResponse(const PartModel& model, CcxKind kind = CcxKind::plain);
    ~CcxResponse() override;
    CcxResponse(const CcxResponse&) = delete;
    CcxResponse& operator=(const CcxResponse&) = delete;

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

    bool is_fixed(int row) const { return springs_.contains(row); }
    int runs() const { return runs_; }      // of ccx
    int steps() const { return steps_; }    // of all runs: systems of equations solved
    double run_s() const { return run_s_; } // wall clock in ccx

private:
    struct Action {
        Eigen::VectorXd load, strain_of_node; // of unknowns; of nodes; either may be empty
    };
    // One load case: forces on unknowns, strains of nodes, and whether the springs' offsets act.
    struct LoadCase {
        Eigen::VectorXd load, strain_of_node;
        bool offsets = false;
    };
    std::set<int> rows_by_answers() const;
    std::vector<int> pieces() const; // of each panel: which panels hang together by springs
    std::map<int, Eigen::VectorXd> find_unit_answers();
    void write_deck(const std::vector<LoadCase>& cases) const;
    std::vector<Eigen::VectorXd> run(const std::vector<LoadCase>& cases);
    void solve();

    const PartModel& model_;
    CcxBricks bricks_;
    std::filesystem::path folder_;
    Eigen::SparseMatrix<double, Eigen::RowMajor> rows_; // rows x bricks' displacements
    std::vector<Action> actions_;
    std::map<int, double> springs_; // row, offset
    std::vector<std::vector<int>> panels_of_row_;
    std::set<int> by_answers_;             // of the present state
    std::map<int, Eigen::VectorXd> alone_; // answers of loose panels to unit forces on their rows
    Eigen::VectorXd displacement_, row_shift_;
    ActionLevels levels_;
    bool solved_ = false;
    int runs_ = 0, steps_ = 0;
    double run_s_ = 0;
    std::vector<Eigen::VectorXd> kept_;
};

} // namespace holdtrue::distortion::testing
