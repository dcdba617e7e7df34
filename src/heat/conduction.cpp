#include "heat/conduction.h"

#include "text/verify.h"

#include <algorithm>

namespace holdtrue::heat {
namespace {

bool same(const SurfaceLaw& a, const SurfaceLaw& b) {
    return a.surroundings_k == b.surroundings_k && a.convection_w_per_m2k == b.convection_w_per_m2k &&
           a.emissivity == b.emissivity && a.inflow_w_per_m2 == b.inflow_w_per_m2;
}

} // namespace

Conduction::Conduction(std::shared_ptr<const part::Mesh> mesh, const material::ThermalMaterial& material,
                       const std::vector<FaceLaws>& faces, double start_k)
    : mesh_(std::move(mesh)), material_(material), grid_(assemble(*mesh_)), start_k_(start_k),
      kernel_(&best_stage_kernel()) {
    VERIFY(faces.size() == mesh_->panels.size(), "one pair of face laws per panel");

    // Panels with equal faces share a table.
    for (std::size_t p = 0; p < faces.size(); ++p) {
        std::size_t first = 0;
        while (!same(faces[first][0], faces[p][0]) || !same(faces[first][1], faces[p][1]))
            ++first;
        if (first == p) {
            table_of_panel_.push_back(static_cast<int>(face_tables_.size()));
            face_tables_.emplace_back(material_, faces[p]);
        } else {
            table_of_panel_.push_back(table_of_panel_[first]);
        }
    }

    // Dead nodes and gaps have no volume: they stay for ever as cold as the table goes, and are never the hottest.
    const double coldest = face_tables_.front().view().first_j_per_m3;
    const double start = material_.enthalpy_j_per_m3(start_k);
    h_.assign(grid_.slot_count, coldest);
    inverse_volume_per_m3_.assign(grid_.slot_count, 0.0);
    for (int node = 0; node < mesh_->node_count(); ++node) {
        const int slot = grid_.slot_of_node[node];
        if (grid_.volume_m3[slot] <= 0)
            continue;
        ++live_nodes_;
        h_[slot] = start;
        inverse_volume_per_m3_[slot] = 1 / grid_.volume_m3[slot];
    }
    hottest_h_ = start;
    start_ = before_ = peak_ = h_;
    rate_.assign(grid_.slot_count, 0.0);
    theta_.assign(grid_.slot_count, 0.0);
    sparse_w_.assign(grid_.slot_count, 0.0);
    int longest = 0;
    for (const auto& panel : grid_.panels)
        longest = std::max(longest, panel.stride);
    loss_.assign(kernel_scratch(longest), 0.0);
    is_touched_.assign(grid_.slot_count, 0);
    for (const SurfaceTable& table : face_tables_)
        diffusivity_m2_per_s_ = std::max(diffusivity_m2_per_s_, table.steepest_theta());
    for (const Link& link : grid_.seam) {
        touch(link.a);
        touch(link.b);
    }
    weight_.assign(grid_.slot_count, 1.0);
    sum_rows();
    fitted_per_s_ = stiffest_per_s_;
    start_stored_j_ = 0;
    start_stored_j_ = accounts().stored_j;
}

int Conduction::add_law(const SurfaceLaw& law) {
    law_tables_.emplace_back(material_, std::span(&law, 1));
    return static_cast<int>(law_tables_.size()) - 1;
}

void Conduction::set_patches(std::vector<SurfacePatch> patches) {
    patches_.clear();
    for (const SurfacePatch& patch : patches) {
        if (!mesh_->node_alive[patch.node])
            continue;
        patches_.push_back({grid_.slot_of_node[patch.node], patch.law, patch.area_m2, patch.account});
        touch(patches_.back().slot);
    }
    sum_rows();
    fit_weights();
}

void Conduction::add_bridges(const std::vector<Bridge>& bridges) {
    plan_bridges(bridges);
    lay_bridges(bridges.size());
}

void Conduction::plan_bridges(const std::vector<Bridge>& bridges) {
    bridges_.resize(laid_bridges_);
    for (Bridge bridge : bridges) {
        for (auto* nodes : {&bridge.node_a, &bridge.node_b})
            for (int& node : *nodes) {
                node = grid_.slot_of_node[node];
                touch(node);
            }
        bridges_.push_back(bridge);
        stiffen(bridge);
    }
    fit_weights();
}

void Conduction::lay_bridges(std::size_t count) {
    laid_bridges_ += count;
    VERIFY(laid_bridges_ <= bridges_.size(), "only planned bridges are laid");
}

void Conduction::set_sources(std::vector<NodePower> sources) {
    sources_ = std::move(sources);
    for (Prescribed& held : prescribed_)
        held.source_w = 0;
    for (NodePower& source : sources_) {
        VERIFY(mesh_->node_alive[source.node], "heat source on a dead node");
        source.node = grid_.slot_of_node[source.node];
        for (Prescribed& held : prescribed_)
            if (held.slot == source.node)
                held.source_w += source.power_w;
    }
}

void Conduction::prescribe(int node, std::shared_ptr<const std::function<double(double)>> temperature_k) {
    const int slot = grid_.slot_of_node[node];
    if (grid_.volume_m3[slot] <= 0)
        return;
    const double before = h_[slot];
    prescribed_.push_back({slot, std::move(temperature_k), links_of(slot)});
    for (const NodePower& source : sources_)
        if (source.node == slot)
            prescribed_.back().source_w += source.power_w;
    inverse_volume_per_m3_[slot] = 0;
    hold_prescribed(h_, time_s_);
    sums_.supplied_j += grid_.volume_m3[slot] * (h_[slot] - before);
    touch(slot);
    note_peaks();
}

void Conduction::set_temperature(int node, double temperature_k) {
    const int slot = grid_.slot_of_node[node];
    if (grid_.volume_m3[slot] <= 0)
        return;
    const double h = material_.enthalpy_j_per_m3(temperature_k);
    sums_.brought_j += grid_.volume_m3[slot] * (h - h_[slot]);
    h_[slot] = h;
    hottest_h_ = std::max(hottest_h_, h);
    peak_[slot] = std::max(peak_[slot], h);
}

// The links of a slot that the sweep handles.
std::vector<Link> Conduction::links_of(int slot) const {
    std::vector<Link> links;
    for (const auto& panel : grid_.panels) {
        if (slot < panel.first || slot >= panel.first + panel.count)
            continue;
        const int s = panel.stride;
        const auto add = [&](const std::vector<double>& column, int offset) {
            if (column[slot] != 0)
                links.push_back({slot, slot + offset, column[slot]});
            if (column[slot - offset] != 0)
                links.push_back({slot, slot - offset, column[slot - offset]});
        };
        add(grid_.east_m, 1);
        add(grid_.north_m, s);
        add(grid_.north_east_m, s + 1);
        add(grid_.north_west_m, s - 1);
    }
    return links;
}

void Conduction::touch(int slot) {
    if (!is_touched_[slot])
        touched_.push_back(slot);
    is_touched_[slot] = 1;
}

double Conduction::temperature_k(int node) const {
    if (!mesh_->node_alive[node])
        return start_k_;
    return face_tables_.front().temperature_k(h_[grid_.slot_of_node[node]]);
}

void Conduction::temperatures_k(std::vector<double>& per_node) const {
    per_node.resize(mesh_->node_count());
    for (int node = 0; node < mesh_->node_count(); ++node)
        per_node[node] = temperature_k(node);
}

double Conduction::hottest_k() const { return face_tables_.front().temperature_k(hottest_h_); }

void Conduction::peaks_k(std::vector<double>& per_node) const {
    per_node.resize(mesh_->node_count());
    for (int node = 0; node < mesh_->node_count(); ++node)
        per_node[node] =
            mesh_->node_alive[node] ? face_tables_.front().temperature_k(peak_[grid_.slot_of_node[node]]) : start_k_;
}

HeatAccounts Conduction::accounts() const {
    HeatAccounts accounts = sums_;
    double stored = 0;
    for (std::size_t slot = 0; slot < h_.size(); ++slot)
        stored += grid_.volume_m3[slot] * h_[slot];
    accounts.stored_j = stored - start_stored_j_;
    return accounts;
}

} // namespace holdtrue::heat
