// Transient heat conduction on the sheets of a mesh,
//   V_i dh_i/dt = sum_j K_ij (theta_j - theta_i) - surface losses + sources + links      [W]
// with h enthalpy per volume and theta the Kirchhoff transform (material/thermal_material.h).
//
// Time: super-time-steps (heat/super_step.h). Every account of heat is integrated by the same stages, so that brought +
// supplied = stored + lost holds to rounding whatever the step.
//
// Errors of use are VERIFYed; it throws nothing. One thread at a time.
#pragma once

#include "heat/conduction_grid.h"
#include "heat/surface_table.h"

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

namespace holdtrue::heat {

using FaceLaws = std::array<SurfaceLaw, 2>; // of the two faces of a sheet

// Whom the heat of a surface goes to.
enum class Account { air, block };
inline constexpr int account_count = 2;

// A piece of surface at one node that follows a law of its own: an edge of a sheet, or a pressed contact.
struct SurfacePatch {
    int node = 0;
    double area_m2 = 0;
    int law = 0; // of Conduction::add_law
    Account account = Account::air;
};

// Heat between two places of the mesh, (theta_b - theta_a) conductance_m.
struct Bridge {
    std::array<int, 4> node_a{}, node_b{};
    std::array<double, 4> weight_a{}, weight_b{}; // each sums to 1
    double conductance_m = 0;                     // cross-section over length
};

struct NodePower {
    int node = 0;
    double power_w = 0;
};

struct HeatAccounts {
    double brought_j = 0;                       // by sources and by set_temperature
    double supplied_j = 0;                      // by nodes of prescribed temperature
    double stored_j = 0;                        // change since the start
    std::array<double, account_count> lost_j{}; // by surfaces, per Account
    double imbalance_j() const { return brought_j + supplied_j - stored_j - lost_j[0] - lost_j[1]; }
};

class Conduction {
public:
    // `faces`: one per panel. Starts at `start_k` everywhere.
    Conduction(std::shared_ptr<const part::Mesh> mesh, const material::ThermalMaterial& material,
               const std::vector<FaceLaws>& faces, double start_k);

    int add_law(const SurfaceLaw& law);
    void set_patches(std::vector<SurfacePatch> patches);
    void add_bridges(const std::vector<Bridge>& bridges);
    // Bridges that are to come, in this order, instead of those planned before and not laid; and the next of them laid.
    // What is planned at once costs one look at how stiff it makes the mesh.
    void plan_bridges(const std::vector<Bridge>& bridges);
    void lay_bridges(std::size_t count);
    void set_sources(std::vector<NodePower> sources); // steady until set anew
    // Holds a node at temperature(time).
    void prescribe(int node, std::shared_ptr<const std::function<double(double)>> temperature_k);
    // Changes a node's temperature at once; the heat counts as brought.
    void set_temperature(int node, double temperature_k);

    double explicit_step_s() const { return 2 / stiffest_per_s_; } // the largest stable step of one stage
    // One step of any length; the number of stages follows from it.
    void advance(double step_s);
    void undo(); // takes the last advance() back; once

    double time_s() const { return time_s_; }
    int steps() const { return steps_; }
    long long node_stages() const { return node_stages_; } // work done: live nodes times stages
    const part::Mesh& mesh() const { return *mesh_; }
    const ConductionGrid& grid() const { return grid_; }
    double temperature_k(int node) const;
    void temperatures_k(std::vector<double>& per_node) const; // dead nodes: as at the start
    double hottest_k() const;                                 // of the live nodes
    void peaks_k(std::vector<double>& per_node) const;        // the hottest each node has been after a step
    HeatAccounts accounts() const;

private:
    struct Prescribed {
        int slot;
        std::shared_ptr<const std::function<double(double)>> temperature_k;
        std::vector<Link> links; // to its neighbours, a = slot
        double source_w = 0;
    };
    // Heat rates of one stage [W].
    struct Rates {
        std::array<double, account_count> lost{};
        double supplied = 0;
    };
    struct SlotPatch {
        int slot, law;
        double area_m2;
        Account account;
    };

    void touch(int slot);
    void stiffen(int slot, double w_per_j_per_m3);
    void stiffen(const Link& link);
    Rates add_sparse(const std::vector<double>& h);
    void hold_prescribed(std::vector<double>& h, double time_s);
    void stiffen(const Bridge& bridge);
    void sum_rows();
    void fit_weights();
    void note_peaks();
    std::vector<Link> links_of(int slot) const;

    std::shared_ptr<const part::Mesh> mesh_;
    material::ThermalMaterial material_;
    ConductionGrid grid_;
    std::vector<SurfaceTable> face_tables_; // distinct pairs of face laws
    std::vector<int> table_of_panel_;
    std::vector<SurfaceTable> law_tables_;
    std::vector<double> inverse_volume_per_m3_; // 0 where the temperature is prescribed

    std::vector<SlotPatch> patches_;
    std::vector<Bridge> bridges_;  // nodes are slots
    std::size_t laid_bridges_ = 0; // the first of them
    std::vector<NodePower> sources_;
    std::vector<Prescribed> prescribed_;
    std::vector<int> touched_;             // slots that patches, bridges and seams reach
    std::vector<std::uint8_t> is_touched_; // slot_count
    std::vector<double> sparse_w_;         // slot_count; what those bring in the present stage
    // Bound of the Jacobian's eigenvalues (conduction_stiffness.cpp): of every slot its weight and the sum of its row.
    std::vector<double> weight_, stiffness_per_s_;
    double stiffest_per_s_ = 0; // the largest sum
    double fitted_per_s_ = 0;   // what the weights bring the sums down to

    std::vector<double> h_, start_, before_, rate_, theta_, peak_; // slot_count
    std::vector<double> loss_;                                     // scratch of the kernel
    double time_s_ = 0, last_step_s_ = 0;
    double hottest_h_ = 0;
    int steps_ = 0;
    long long node_stages_ = 0;
    int live_nodes_ = 0;
    double start_k_ = 0, diffusivity_m2_per_s_ = 0; // the largest diffusivity
    double start_stored_j_ = 0;
    HeatAccounts sums_, sums_before_;
    std::vector<double> peak_before_;
    const StageKernel* kernel_;
};

} // namespace holdtrue::heat
