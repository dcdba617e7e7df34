#include "heat/conduction.h"

#include "heat/super_step.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>
#include <limits>

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

void Conduction::hold_prescribed(std::vector<double>& h, double time_s) {
    for (const Prescribed& held : prescribed_)
        h[held.slot] = material_.enthalpy_j_per_m3((*held.temperature_k)(time_s));
}

// Fills sparse_w_ at the touched slots with what patches, bridges and seams bring, given theta_ of h.
Conduction::Rates Conduction::add_sparse(const std::vector<double>& h) {
    Rates rates;
    for (const int slot : touched_)
        sparse_w_[slot] = 0;
    for (const Link& link : grid_.seam) {
        const double flow = link.conductance_m * (theta_[link.b] - theta_[link.a]);
        sparse_w_[link.a] += flow;
        sparse_w_[link.b] -= flow;
    }
    for (const Bridge& bridge : std::span(bridges_).first(laid_bridges_)) {
        double a = 0, b = 0;
        for (std::size_t k = 0; k < 4; ++k) {
            a += bridge.weight_a[k] * theta_[bridge.node_a[k]];
            b += bridge.weight_b[k] * theta_[bridge.node_b[k]];
        }
        const double flow = bridge.conductance_m * (b - a);
        for (std::size_t k = 0; k < 4; ++k) {
            sparse_w_[bridge.node_a[k]] += bridge.weight_a[k] * flow;
            sparse_w_[bridge.node_b[k]] -= bridge.weight_b[k] * flow;
        }
    }
    for (const SlotPatch& patch : patches_) {
        const double lost = patch.area_m2 * law_tables_[patch.law].loss_w_per_m2(h[patch.slot]);
        sparse_w_[patch.slot] -= lost;
        rates.lost[static_cast<std::size_t>(patch.account)] += lost;
    }
    for (const Prescribed& held : prescribed_) {
        double out = -sparse_w_[held.slot] - held.source_w;
        for (const Link& link : held.links)
            out += link.conductance_m * (theta_[link.a] - theta_[link.b]);
        for (std::size_t p = 0; p < grid_.panels.size(); ++p)
            if (held.slot >= grid_.panels[p].first && held.slot < grid_.panels[p].first + grid_.panels[p].count)
                out += grid_.face_m2[held.slot] * face_tables_[table_of_panel_[p]].loss_w_per_m2(h[held.slot]);
        rates.supplied += out;
    }
    return rates;
}

void Conduction::advance(double step_s) {
    VERIFY(step_s > 0 && std::isfinite(step_s), "a time step is positive");
    const SuperStep step(step_s, explicit_step_s());
    sums_before_ = sums_;
    peak_before_.swap(peak_);
    peak_ = peak_before_;
    h_.swap(start_);

    // What the accounts got after the last two stages; they follow the same recurrence as the enthalpies.
    struct Sums {
        std::array<double, account_count> lost{};
        double supplied = 0;
    };
    Sums now, last, first_rate;
    const auto rates_of = [&](double faces_w, const Rates& sparse) {
        Sums rates{sparse.lost, sparse.supplied};
        rates.lost[0] += faces_w;
        return rates;
    };
    const auto combine = [](auto&& f, const Sums& a, const Sums& b, const Sums& r, const Sums& r0) {
        Sums out;
        for (std::size_t k = 0; k < account_count; ++k)
            out.lost[k] = f(a.lost[k], b.lost[k], r.lost[k], r0.lost[k]);
        out.supplied = f(a.supplied, b.supplied, r.supplied, r0.supplied);
        return out;
    };

    // Stage 1, from start_ into h_.
    const double first_s = step.first_rate_s();
    double faces_w = 0;
    for (std::size_t p = 0; p < grid_.panels.size(); ++p) {
        const int at = grid_.panels[p].first;
        faces_w += kernel_->first(grid_.view(p, inverse_volume_per_m3_), face_tables_[table_of_panel_[p]].view(),
                                  &start_[at], &theta_[at], loss_.data(), &rate_[at], &h_[at], first_s);
    }
    first_rate = rates_of(faces_w, add_sparse(start_));
    for (const int slot : touched_) {
        const double extra = sparse_w_[slot] * inverse_volume_per_m3_[slot];
        rate_[slot] += extra;
        h_[slot] += first_s * extra;
    }
    for (const NodePower& source : sources_) {
        const double extra = source.power_w * inverse_volume_per_m3_[source.node];
        rate_[source.node] += extra;
        h_[source.node] += first_s * extra;
    }
    hold_prescribed(h_, time_s_ + step.time_s(1));
    now = combine([&](double, double, double, double r0) { return first_s * r0; }, now, last, now, first_rate);

    // Later stages, from h_ (stage j - 1) and before_ (stage j - 2) into before_; then the two change places.
    for (int j = 2; j <= step.stages(); ++j) {
        const StageCoefficients c = step.coefficients(j);
        faces_w = 0;
        for (std::size_t p = 0; p < grid_.panels.size(); ++p) {
            const int at = grid_.panels[p].first;
            faces_w += kernel_->later(grid_.view(p, inverse_volume_per_m3_), face_tables_[table_of_panel_[p]].view(),
                                      &h_[at], &theta_[at], loss_.data(), j == 2 ? &start_[at] : &before_[at],
                                      &start_[at], &rate_[at], &before_[at], c);
        }
        const Sums rate = rates_of(faces_w, add_sparse(h_));
        for (const int slot : touched_)
            before_[slot] += c.rate_s * sparse_w_[slot] * inverse_volume_per_m3_[slot];
        for (const NodePower& source : sources_)
            before_[source.node] += c.rate_s * source.power_w * inverse_volume_per_m3_[source.node];
        hold_prescribed(before_, time_s_ + step.time_s(j));
        const Sums next = combine([&](double a, double b, double r,
                                      double r0) { return c.mu * a + c.nu * b + c.rate_s * r + c.start_rate_s * r0; },
                                  now, last, rate, first_rate);
        last = now;
        now = next;
        h_.swap(before_);
    }

    for (std::size_t k = 0; k < account_count; ++k)
        sums_.lost_j[k] += now.lost[k];
    sums_.supplied_j += now.supplied;
    for (const NodePower& source : sources_)
        sums_.brought_j += source.power_w * step_s;
    for (const Prescribed& held : prescribed_)
        sums_.supplied_j += grid_.volume_m3[held.slot] * (h_[held.slot] - start_[held.slot]);

    time_s_ += step_s;
    last_step_s_ = step_s;
    ++steps_;
    node_stages_ += static_cast<long long>(step.stages()) * live_nodes_;
    note_peaks();
}

void Conduction::undo() {
    VERIFY(last_step_s_ > 0, "only the last step can be taken back, once");
    h_.swap(start_);
    peak_.swap(peak_before_);
    sums_ = sums_before_;
    time_s_ -= last_step_s_;
    last_step_s_ = 0;
    --steps_;
    hottest_h_ = *std::ranges::max_element(h_);
}

void Conduction::note_peaks() {
    constexpr std::size_t lanes = 8;
    std::array<double, lanes> hottest;
    hottest.fill(-std::numeric_limits<double>::infinity());
    const std::size_t whole = h_.size() / lanes * lanes;
    for (std::size_t k = 0; k < whole; k += lanes)
        for (std::size_t lane = 0; lane < lanes; ++lane) {
            const double h = h_[k + lane];
            peak_[k + lane] = h > peak_[k + lane] ? h : peak_[k + lane];
            hottest[lane] = h > hottest[lane] ? h : hottest[lane];
        }
    for (std::size_t k = whole; k < h_.size(); ++k) { // slot counts are multiples of 8
        peak_[k] = std::max(peak_[k], h_[k]);
        hottest[0] = std::max(hottest[0], h_[k]);
    }
    hottest_h_ = *std::ranges::max_element(hottest);
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
