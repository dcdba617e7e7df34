#include "weld/heat_table.h"

#include "distortion/step_heat.h"
#include "heat/pass_track.h"
#include "material/steel.h"
#include "weld/halves.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <thread>

namespace holdtrue::weld {

namespace {

// Times after the end of a pass at which its heat is kept: near enough that linear between their logarithms holds.
constexpr std::array<double, 20> times_s{0,   1,   2,   4,   7,   12,   20,   33,   55,   90,
                                         150, 240, 380, 600, 950, 1500, 2400, 3800, 6000, 10000};
// From here on it hardly shows in which direction a pass ran.
constexpr std::size_t directed_times = 11;

constexpr std::size_t places_per_pass = 24;
constexpr double step_scale = 2; // of the heat's time steps: as near as the sum of single passes deserves
constexpr double heat_step_j_per_kg = 500, most_heat_j_per_kg = 1.3e6;

std::vector<double> inverse_of_heat_content(double ambient_j_per_kg) {
    std::vector<double> kelvin;
    for (double heat = 0; heat <= most_heat_j_per_kg; heat += heat_step_j_per_kg) {
        double low = 200, high = 2500;
        for (int round = 0; round < 60; ++round) {
            const double middle = 0.5 * (low + high);
            (material::steel_heat_content_j_per_kg(middle) < ambient_j_per_kg + heat ? low : high) = middle;
        }
        kelvin.push_back(0.5 * (low + high));
    }
    return kelvin;
}

// Some of the nodes, as far apart as can be; the same one again where there are not enough.
std::array<int, places_per_pass> spread_out(const part::Mesh& mesh, const std::vector<int>& nodes) {
    std::array<int, places_per_pass> chosen;
    chosen.fill(nodes.front());
    std::vector<double> apart(nodes.size(), 1e9);
    for (std::size_t k = 1; k < chosen.size(); ++k) {
        for (std::size_t n = 0; n < nodes.size(); ++n)
            apart[n] = std::min(apart[n], (mesh.position_m[static_cast<std::size_t>(nodes[n])] -
                                           mesh.position_m[static_cast<std::size_t>(chosen[k - 1])])
                                              .norm());
        chosen[k] = nodes[static_cast<std::size_t>(std::ranges::max_element(apart) - apart.begin())];
    }
    return chosen;
}

} // namespace

HeatTable::HeatTable(std::shared_ptr<const part::Part> part, std::shared_ptr<const part::Mesh> mesh,
                     const distortion::CondensedPart& condensed, const std::vector<heat::Arc>& arcs, int threads,
                     std::stop_token stop)
    : rows_(condensed.model().row_count()), groups_(static_cast<int>(condensed.model().groups().size())),
      passes_(static_cast<int>(part->passes.size())),
      ambient_j_per_kg_(material::steel_heat_content_j_per_kg(part->ambient_k)), arc_s_(part->passes.size()),
      heat_j_(part->passes.size()), temperature_of_heat_k_(inverse_of_heat_content(ambient_j_per_kg_)) {
    const Halves halves(*mesh);
    const distortion::StripMetal metal(distortion::YieldCurve::effective);
    const auto above_ambient = [&](double kelvin) {
        return material::steel_heat_content_j_per_kg(kelvin) - ambient_j_per_kg_;
    };
    heat::WeldHeat joined(part, mesh, heat::Surroundings{.ambient_k = part->ambient_k},
                          material::ThermalMaterial::steel(), step_scale);
    for (heat::Arc arc : arcs)
        if (part->passes[static_cast<std::size_t>(arc.pass)].kind != part::PassKind::run) {
            arc.net_power_w = 0;
            joined.weld(arc);
        }
    std::vector<int> places; // nodes, `places_per_pass` for each
    for (int p = 0; p < passes_; ++p)
        for (const int node : spread_out(*mesh, heat::nodes_along(*mesh, heat::track(*part, *mesh, p))))
            places.push_back(node);
    std::vector<Eigen::MatrixXf> all_after(2 * part->passes.size(), Eigen::MatrixXf(rows_ + groups_ + 3, 0)),
        all_along(2 * part->passes.size(), Eigen::MatrixXf(std::ssize(places), 0));
    const auto run = [&](heat::Arc arc, bool reversed) {
        heat::WeldHeat heat(joined);
        arc.reversed = reversed;
        const double before_j = heat.energy().brought_j, start_s = heat.time_s();
        heat.weld(arc, {}, stop);
        if (!reversed) {
            arc_s_[static_cast<std::size_t>(arc.pass)] = heat.time_s() - start_s;
            heat_j_[static_cast<std::size_t>(arc.pass)] = heat.energy().brought_j - before_j;
        }
        Eigen::MatrixXf& after = all_after[static_cast<std::size_t>(arc.pass + (reversed ? passes_ : 0))];
        Eigen::MatrixXf& along = all_along[static_cast<std::size_t>(arc.pass + (reversed ? passes_ : 0))];
        const std::size_t count = reversed ? directed_times : times_s.size();
        after.resize(rows_ + groups_ + 3, static_cast<Eigen::Index>(count));
        along.resize(static_cast<Eigen::Index>(places.size()), static_cast<Eigen::Index>(count));
        std::vector<distortion::StepHeat> heats;
        for (std::size_t k = 0; k < count && !stop.stop_requested(); ++k) {
            if (k > 0)
                heat.wait(times_s[k] - times_s[k - 1], 0, {}, stop);
            const std::vector<float> field(heat.temperature_k().begin(), heat.temperature_k().end());
            heats.push_back(distortion::step_heat(condensed.model(), field, metal));
            auto column = after.col(static_cast<Eigen::Index>(k));
            for (int g = 0; g < groups_; ++g)
                column[rows_ + g] =
                    static_cast<float>(above_ambient(heats.back().group_k[static_cast<std::size_t>(g)]));
            for (std::size_t p = 0; p < places.size(); ++p)
                along(static_cast<Eigen::Index>(p), static_cast<Eigen::Index>(k)) =
                    static_cast<float>(above_ambient(heat.temperature_k()[static_cast<std::size_t>(places[p])]));
            const std::array<double, 3> uneven = halves.difference_k(heat.temperature_k());
            for (int axis = 0; axis < 3; ++axis)
                column[rows_ + groups_ + axis] = static_cast<float>(uneven[static_cast<std::size_t>(axis)]);
        }
        distortion::condense_heat(condensed, heats);
        for (std::size_t k = 0; k < heats.size(); ++k)
            after.col(static_cast<Eigen::Index>(k)).head(rows_) = heats[k].of_rows.cast<float>();
    };

    std::atomic<std::size_t> next{0};
    {
        std::vector<std::jthread> workers;
        for (int t = 0; t < threads; ++t)
            workers.emplace_back([&] {
                for (std::size_t k = next++; k < 2 * arcs.size() && !stop.stop_requested(); k = next++)
                    run(arcs[k / 2], k % 2 == 1);
            });
    }
    ok_ = !stop.stop_requested();
    if (!ok_)
        return;
    after_ = PackedColumns(all_after);
    along_ = PackedColumns(all_along);
}

void HeatTable::go_to(double time_s, const std::vector<Welded>& welded, Moment& moment) const {
    // Linear between the logarithms of two times, by a parabola that does so where they are, and half way.
    static const std::array<double, times_s.size()> bends = [] {
        std::array<double, times_s.size()> all{};
        for (std::size_t k = 1; k + 1 < all.size(); ++k)
            all[k] = 4 * std::log(0.5 * (1 + times_s[k + 1] / times_s[k])) / std::log(times_s[k + 1] / times_s[k]) - 2;
        return all;
    }();
    moment.terms.clear();
    std::size_t k = times_s.size() - 1; // the later a pass ended the earlier its column
    for (const Welded& each : welded) {
        const double since_s = time_s - each.end_s;
        while (k > 0 && since_s < times_s[k])
            --k;
        // Backwards as far as that is known, then forwards.
        const auto add_column = [&](std::size_t column, double share) {
            const bool backwards = each.reversed && column < directed_times;
            moment.terms.push_back({each.pass + (backwards ? passes_ : 0), static_cast<int>(column),
                                    static_cast<float>(each.share * share)});
        };
        if (k + 1 == times_s.size()) {
            add_column(k, 1);
            continue;
        }
        const double way = (since_s - times_s[k]) / (times_s[k + 1] - times_s[k]);
        const double share = way + bends[k] * way * (1 - way);
        add_column(k, 1 - share);
        if (share > 0)
            add_column(k + 1, share);
    }
}

void HeatTable::at(Moment& moment, HeatState& state) const {
    const Eigen::VectorXf& all = after_.sum(moment.terms, 0, rows_ + groups_, moment.scratch);
    state.of_rows = all.head(rows_).cast<double>();
    state.group_j_per_kg = all.segment(rows_, groups_).cast<double>();
}

Eigen::Vector3d HeatTable::halves_k(Moment& moment) const {
    return after_.sum(moment.terms, rows_ + groups_, 3, moment.scratch).cast<double>();
}

double HeatTable::hottest_k(Moment& moment, int pass) const {
    constexpr int per_pass = static_cast<int>(places_per_pass);
    const int first = std::max(0, pass) * per_pass, count = pass < 0 ? passes_ * per_pass : per_pass;
    return temperature_k(along_.sum(moment.terms, first, count, moment.scratch).maxCoeff());
}

double HeatTable::temperature_k(double j_per_kg_above_ambient) const {
    const double place = std::max(0.0, j_per_kg_above_ambient) / heat_step_j_per_kg;
    const std::size_t low = std::min(static_cast<std::size_t>(place), temperature_of_heat_k_.size() - 2);
    const double share = std::min(1.0, place - static_cast<double>(low));
    return temperature_of_heat_k_[low] + share * (temperature_of_heat_k_[low + 1] - temperature_of_heat_k_[low]);
}

} // namespace holdtrue::weld
