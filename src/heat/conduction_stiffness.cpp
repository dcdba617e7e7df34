// How fast the stiffest pattern of temperatures evens out. With A the Jacobian dR/dh, no eigenvalue is larger than
//   max_i (1/x_i) sum_j |A_ij| x_j
// whatever the positive weights x (Collatz 1942; all 1: Gershgorin 1931). A row that stands out by itself, as at the
// end of a bead, is brought down by a larger weight, at the cost of its neighbours' rows; at best all come down to the
// largest eigenvalue of |A|. Here those are brought down that stand above what the mesh had before anything was welded.
#include "heat/conduction.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::heat {
namespace {

constexpr int rounds_to_try = 6;
constexpr double close_enough = 1.1, growth = 1.15; // of what the rows are fitted to

} // namespace

void Conduction::stiffen(int slot, double w_per_j_per_m3) {
    stiffness_per_s_[slot] += w_per_j_per_m3 * inverse_volume_per_m3_[slot];
    stiffest_per_s_ = std::max(stiffest_per_s_, stiffness_per_s_[slot]);
}

void Conduction::stiffen(const Link& link) {
    const double sum = diffusivity_m2_per_s_ * std::abs(link.conductance_m) * (weight_[link.a] + weight_[link.b]);
    stiffen(link.a, sum / weight_[link.a]);
    stiffen(link.b, sum / weight_[link.b]);
}

void Conduction::stiffen(const Bridge& bridge) {
    double sum = 0;
    for (std::size_t k = 0; k < 4; ++k)
        sum += bridge.weight_a[k] * weight_[bridge.node_a[k]] + bridge.weight_b[k] * weight_[bridge.node_b[k]];
    sum *= diffusivity_m2_per_s_ * bridge.conductance_m;
    for (std::size_t k = 0; k < 4; ++k) {
        stiffen(bridge.node_a[k], sum * bridge.weight_a[k] / weight_[bridge.node_a[k]]);
        stiffen(bridge.node_b[k], sum * bridge.weight_b[k] / weight_[bridge.node_b[k]]);
    }
}

void Conduction::sum_rows() {
    stiffness_per_s_.assign(grid_.slot_count, 0.0);
    stiffest_per_s_ = 1e-12;
    for (std::size_t p = 0; p < grid_.panels.size(); ++p) {
        const auto& panel = grid_.panels[p];
        const double loss = face_tables_[table_of_panel_[p]].steepest_loss();
        const auto link = [&](const std::vector<double>& column, int slot, int offset) {
            if (column[slot] != 0)
                stiffen(Link{slot, slot + offset, column[slot]});
        };
        for (int slot = panel.first; slot < panel.first + panel.count; ++slot) {
            stiffen(slot, grid_.face_m2[slot] * loss);
            link(grid_.east_m, slot, 1);
            link(grid_.north_m, slot, panel.stride);
            link(grid_.north_east_m, slot, panel.stride + 1);
            link(grid_.north_west_m, slot, panel.stride - 1);
        }
    }
    for (const Link& link : grid_.seam)
        stiffen(link);
    for (const SlotPatch& patch : patches_)
        stiffen(patch.slot, patch.area_m2 * law_tables_[patch.law].steepest_loss());
    for (const Bridge& bridge : bridges_)
        stiffen(bridge);
}

void Conduction::fit_weights() {
    for (int round = 1; stiffest_per_s_ > close_enough * fitted_per_s_; ++round) {
        if (round % rounds_to_try == 0) { // the largest eigenvalue has grown itself
            fitted_per_s_ *= growth;
            weight_.assign(grid_.slot_count, 1.0);
        } else {
            for (int slot = 0; slot < grid_.slot_count; ++slot) {
                const double above = std::max(1.0, stiffness_per_s_[slot] / fitted_per_s_);
                weight_[slot] *= above * above;
            }
        }
        sum_rows();
    }
}

} // namespace holdtrue::heat
