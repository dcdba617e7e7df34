#include "heat/conduction.h"
#include "heat/plates.h"

#include <Eigen/Dense>
#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::heat;
using namespace holdtrue::heat::test;

namespace {

constexpr double diffusivity = 41.0 / (7850 * 600);

// K of the whole mesh [m]; what flows out of its nodes is K theta.
Eigen::MatrixXd conductances(const Conduction& heat, const std::vector<Bridge>& bridges) {
    const ConductionGrid& grid = heat.grid();
    Eigen::MatrixXd all = Eigen::MatrixXd::Zero(grid.slot_count, grid.slot_count);
    const auto add = [&](const Eigen::VectorXd& difference, double conductance_m) {
        all += conductance_m * difference * difference.transpose();
    };
    const auto link = [&](int a, int b, double conductance_m) {
        Eigen::VectorXd difference = Eigen::VectorXd::Zero(grid.slot_count);
        difference[a] = -1;
        difference[b] = 1;
        add(difference, conductance_m);
    };
    for (const auto& panel : grid.panels)
        for (int slot = panel.first; slot < panel.first + panel.count; ++slot)
            for (const auto& [column, offset] :
                 {std::pair(&grid.east_m, 1), std::pair(&grid.north_m, panel.stride),
                  std::pair(&grid.north_east_m, panel.stride + 1), std::pair(&grid.north_west_m, panel.stride - 1)})
                if ((*column)[slot] != 0)
                    link(slot, slot + offset, (*column)[slot]);
    for (const Bridge& bridge : bridges) {
        Eigen::VectorXd difference = Eigen::VectorXd::Zero(grid.slot_count);
        for (std::size_t k = 0; k < 4; ++k) {
            difference[grid.slot_of_node[bridge.node_a[k]]] -= bridge.weight_a[k];
            difference[grid.slot_of_node[bridge.node_b[k]]] += bridge.weight_b[k];
        }
        add(difference, bridge.conductance_m);
    }
    return all;
}

// The largest eigenvalue of V^-1 K [1/m^2] times the diffusivity, by a general-purpose library.
double fastest_per_s(const Conduction& heat, const std::vector<Bridge>& bridges) {
    const ConductionGrid& grid = heat.grid();
    Eigen::VectorXd root(grid.slot_count);
    for (int slot = 0; slot < grid.slot_count; ++slot)
        root[slot] = grid.volume_m3[slot] > 0 ? 1 / std::sqrt(grid.volume_m3[slot]) : 0;
    const Eigen::MatrixXd scaled = root.asDiagonal() * conductances(heat, bridges) * root.asDiagonal();
    return diffusivity * Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(scaled).eigenvalues().maxCoeff();
}

} // namespace

// The eigenvalues are Eigen's.
TEST_CASE("the stable step is short enough for the stiffest pattern, and not much shorter") {
    part::Panel skewed = part::test::plate(0.08, 0.04, 0.003);
    skewed.profile_b = {{0.02, 0.04, 0}, {0.09, 0.05, 0}};
    const auto mesh = mesh_of({skewed, part::test::plate(0.08, 0.04, 0.003)}, 0.008);
    const auto material = material::ThermalMaterial::constant(
        {.conductivity_w_per_mk = 41, .density_kg_per_m3 = 7850, .specific_heat_j_per_kgk = 600});
    Conduction heat(mesh, material, {FaceLaws{}, FaceLaws{}}, 300);
    const double bare = fastest_per_s(heat, {});
    CHECK(2 / heat.explicit_step_s() >= bare * (1 - 1e-9));
    CHECK(2 / heat.explicit_step_s() < 1.6 * bare);

    // A bead along one edge, from soft to much stiffer than the sheets, one bridge to a cell.
    std::vector<Bridge> bead;
    for (int i = 0; i + 1 < mesh->panels[0].nu; ++i) {
        Bridge bridge;
        for (std::size_t p = 0; p < 2; ++p) {
            const part::PanelGrid& grid = mesh->panels[p];
            (p == 0 ? bridge.node_a : bridge.node_b) = {grid.node(i, 0), grid.node(i + 1, 0), grid.node(i, 1),
                                                        grid.node(i + 1, 1)};
        }
        bridge.weight_a = bridge.weight_b = {0.5, 0.5, 0, 0};
        bridge.conductance_m = 0.002 * (i + 1);
        bead.push_back(bridge);
        heat.add_bridges({bridge});
        const double fastest = fastest_per_s(heat, bead);
        CAPTURE(i);
        CHECK(2 / heat.explicit_step_s() >= fastest * (1 - 1e-9));
        CHECK(2 / heat.explicit_step_s() < 1.6 * fastest);
    }

    // Planned at once they come to the same safety, before any of them conducts.
    Conduction planned(mesh, material, {FaceLaws{}, FaceLaws{}}, 300);
    planned.plan_bridges(bead);
    CHECK(2 / planned.explicit_step_s() >= fastest_per_s(planned, bead) * (1 - 1e-9));
    CHECK(2 / planned.explicit_step_s() < 1.6 * fastest_per_s(planned, bead));
    planned.set_temperature(mesh->panels[1].node(0, 0), 400);
    planned.advance(1);
    CHECK(planned.temperature_k(mesh->panels[0].node(0, 0)) == 300);
    planned.lay_bridges(1);
    planned.advance(1);
    CHECK(planned.temperature_k(mesh->panels[0].node(0, 0)) > 300);
}
