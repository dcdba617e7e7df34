// A part as linear elastic shells before anything is welded, and all that a job can do to it, as rows and loads.
//
//   rows    ties of every weld group, clamps, strains along the weld, displacements of the gauges' points, and the
//           mean motion of the whole part, which gauges and pictures leave out
//   loads   unit shrinkages of every group's strips, and the thermal strain of every node
//
// Each panel is held statically determinate at six unknowns of three of its nodes (a free panel has no stress from
// that), and its rigid motions are kept apart: u = K_held^-1 f + motion a. `ground_n_per_m` is the stiffness of the
// six springs by which a panel's rigid motion hangs in the air, so weak that they hold nothing back.
#pragma once

#include "distortion/shrinkage_strip.h"

#include <array>
#include <memory>

namespace holdtrue::distortion {

struct PartModelSettings {
    GroupSettings groups;
    double ground_n_per_m = 1e-2;
};

// Loads of a group, as columns of PartModel::loads.
struct GroupLoads {
    std::array<int, 2> along_narrow{}, along_wide{}, across{}, bend{}; // panel a, panel b
};

class PartModel {
public:
    PartModel(const part::Part& part, const part::Mesh& mesh, const PartModelSettings& settings = {});

    const part::Part& part() const { return *part_; }
    const part::Mesh& mesh() const { return *mesh_; }
    const ShellModel& shell() const { return *shell_; }
    int node_count() const { return mesh_->node_count(); }
    int row_count() const { return static_cast<int>(springs_.size()); }
    int load_count() const { return static_cast<int>(loads_.cols()); }

    const std::vector<WeldGroup>& groups() const { return groups_; }
    const std::vector<int>& groups_of_pass(int pass) const { return groups_of_pass_[static_cast<std::size_t>(pass)]; }
    const std::array<PanelStrip, 2>& strips(int group) const { return strips_[static_cast<std::size_t>(group)]; }
    const GroupLoads& loads_of(int group) const { return group_loads_[static_cast<std::size_t>(group)]; }
    const std::vector<int>& clamp_rows(int clamp) const { return clamp_rows_[static_cast<std::size_t>(clamp)]; }
    // First of the three rows of a gauge's point.
    int gauge_row(int gauge, int point) const {
        return gauge_rows_[static_cast<std::size_t>(gauge)][static_cast<std::size_t>(point)];
    }

    // First of six rows with springs: mean shift and turn of one panel, by which the fixture holds it.
    int panel_row(int panel) const { return panel_rows_[static_cast<std::size_t>(panel)]; }
    std::array<int, 6> panel_rows(int panel) const;
    bool is_panel_row(int row) const { return row >= panel_rows_.front() && row < panel_rows_.back() + 6; }
    // First of six rows: mean shift of the part's metal, then its mean turn about the axes through its middle.
    int frame_row() const { return frame_row_; }
    const part::Point& middle() const { return middle_; }

    const LinearRows& rows() const { return rows_; }
    double spring(int row) const { return springs_[static_cast<std::size_t>(row)]; } // 0: a row that only reads
    const SparseMatrix& loads() const { return loads_; } // unknowns x loads; the strips' own forces

    // Forces of thermal strains, element by element: unknowns += of one cell per unit strain of it.
    int element_of_cell(int cell) const { return element_of_cell_[static_cast<std::size_t>(cell)]; }
    const std::vector<int>& cell_of_element() const { return cell_of_element_; }
    const ElementVector& thermal_force(int element) const { return thermal_forces_[static_cast<std::size_t>(element)]; }
    Eigen::VectorXd thermal_load(const Eigen::VectorXd& strain_of_node) const;

    const std::vector<int>& held_unknowns() const { return held_; } // 6 per panel
    SparseMatrix held_stiffness() const;
    SparseMatrix free_stiffness() const;                // with the ground springs
    const Columns& motions() const { return motions_; } // unknowns x held: rigid motion that moves one of them by 1
    double ground_n_per_m() const { return ground_n_per_m_; }

private:
    void add_panels_motions();
    void add_rows();
    void add_loads();

    const part::Part* part_;
    const part::Mesh* mesh_;
    double ground_n_per_m_;
    std::vector<int> element_of_cell_, cell_of_element_;
    std::unique_ptr<ShellModel> shell_;
    std::vector<WeldGroup> groups_;
    std::vector<std::vector<int>> groups_of_pass_;
    std::vector<std::array<PanelStrip, 2>> strips_;
    std::vector<GroupLoads> group_loads_;
    std::vector<std::vector<int>> clamp_rows_, gauge_rows_;
    std::vector<int> panel_rows_;
    int frame_row_ = 0;
    part::Point middle_{0, 0, 0};
    LinearRows rows_;
    std::vector<double> springs_;
    SparseMatrix loads_;
    std::vector<ElementVector> thermal_forces_;
    std::vector<int> held_;
    Columns motions_;
};

} // namespace holdtrue::distortion
