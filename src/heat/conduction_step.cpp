// One step in time of conduction: stages of a super step (super_step.h), with the accounts of what comes and goes.
#include "heat/conduction.h"
#include "heat/super_step.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace holdtrue::heat {
namespace {

// f of the same entry of each.
template <class Function, class Rates, class... More>
Rates combine(const Function& f, const Rates& first, const More&... more) {
    Rates out;
    for (std::size_t k = 0; k < first.lost.size(); ++k)
        out.lost[k] = f(first.lost[k], more.lost[k]...);
    out.supplied = f(first.supplied, more.supplied...);
    return out;
}

} // namespace

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

    Rates now, last; // what the accounts got: it follows the same recurrence as the enthalpies

    // Stage 1, from start_ into h_.
    const double first_s = step.first_rate_s();
    double faces_w = 0;
    for (std::size_t p = 0; p < grid_.panels.size(); ++p) {
        const int at = grid_.panels[p].first;
        faces_w += kernel_->first(grid_.view(p, inverse_volume_per_m3_), face_tables_[table_of_panel_[p]].view(),
                                  &start_[at], &theta_[at], loss_.data(), &rate_[at], &h_[at], first_s);
    }
    Rates first_rate = add_sparse(start_);
    first_rate.lost[0] += faces_w;
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
    now = combine([&](double r0) { return first_s * r0; }, first_rate);

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
        Rates rate = add_sparse(h_);
        rate.lost[0] += faces_w;
        for (const int slot : touched_)
            before_[slot] += c.rate_s * sparse_w_[slot] * inverse_volume_per_m3_[slot];
        for (const NodePower& source : sources_)
            before_[source.node] += c.rate_s * source.power_w * inverse_volume_per_m3_[source.node];
        hold_prescribed(before_, time_s_ + step.time_s(j));
        const auto recur = [&](double a, double b, double r, double r0) {
            return c.mu * a + c.nu * b + c.rate_s * r + c.start_rate_s * r0;
        };
        last = std::exchange(now, combine(recur, now, last, rate, first_rate));
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

} // namespace holdtrue::heat
