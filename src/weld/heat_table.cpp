#include "weld/heat_table.h"

#include "distortion/dense_kernel.h"
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
      ambient_j_per_kg_(material::steel_heat_content_j_per_kg(part->ambient_k)), traces_(2 * part->passes.size()),
      temperature_of_heat_k_(inverse_of_heat_content(ambient_j_per_kg_)) {
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
    const auto run = [&](heat::Arc arc, bool reversed) {
        heat::WeldHeat heat(joined);
        arc.reversed = reversed;
        const double before_j = heat.energy().brought_j, start_s = heat.time_s();
        heat.weld(arc, {}, stop);
        Trace& trace = traces_[static_cast<std::size_t>(arc.pass + (reversed ? passes_ : 0))];
        trace.arc_s = heat.time_s() - start_s;
        trace.heat_j = heat.energy().brought_j - before_j;
        const std::size_t count = reversed ? directed_times : times_s.size();
        trace.after.resize(rows_ + groups_ + 3, static_cast<Eigen::Index>(count));
        trace.along_j_per_kg.resize(static_cast<Eigen::Index>(places.size()), static_cast<Eigen::Index>(count));
        std::vector<distortion::StepHeat> heats;
        for (std::size_t k = 0; k < count && !stop.stop_requested(); ++k) {
            if (k > 0)
                heat.wait(times_s[k] - times_s[k - 1], 0, {}, stop);
            const std::vector<float> field(heat.temperature_k().begin(), heat.temperature_k().end());
            heats.push_back(distortion::step_heat(condensed.model(), field, metal));
            auto column = trace.after.col(static_cast<Eigen::Index>(k));
            for (int g = 0; g < groups_; ++g)
                column[rows_ + g] =
                    static_cast<float>(above_ambient(heats.back().group_k[static_cast<std::size_t>(g)]));
            for (std::size_t p = 0; p < places.size(); ++p)
                trace.along_j_per_kg(static_cast<Eigen::Index>(p), static_cast<Eigen::Index>(k)) =
                    static_cast<float>(above_ambient(heat.temperature_k()[static_cast<std::size_t>(places[p])]));
            const std::array<double, 3> uneven = halves.difference_k(heat.temperature_k());
            for (int axis = 0; axis < 3; ++axis)
                column[rows_ + groups_ + axis] = static_cast<float>(uneven[static_cast<std::size_t>(axis)]);
        }
        distortion::condense_heat(condensed, heats);
        for (std::size_t k = 0; k < heats.size(); ++k)
            trace.after.col(static_cast<Eigen::Index>(k)).head(rows_) = heats[k].of_rows.cast<float>();
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
}

HeatTable::Between HeatTable::between(double since_s) {
    const auto after = std::upper_bound(times_s.begin(), times_s.end(), since_s);
    const auto column = std::max<std::ptrdiff_t>(0, after - times_s.begin() - 1);
    if (after == times_s.end())
        return {static_cast<int>(times_s.size()) - 1, 0};
    static const std::array<double, times_s.size()> logs = [] {
        std::array<double, times_s.size()> all{};
        for (std::size_t k = 1; k < all.size(); ++k)
            all[k] = std::log(times_s[k]);
        return all;
    }();
    const auto low = static_cast<std::size_t>(column);
    return {static_cast<int>(column),
            low > 0 ? (std::log(since_s) - logs[low]) / (logs[low + 1] - logs[low]) : since_s / times_s[1]};
}

void HeatTable::add(double time_s, const std::vector<Welded>& welded, Eigen::MatrixXf Trace::*what, int first,
                    Eigen::VectorXd& sum) const {
    std::vector<const float*> columns;
    std::vector<double> shares;
    for (const Welded& each : welded) {
        const Between at = between(time_s - each.end_s);
        const auto add_column = [&](int k, double share) {
            // Backwards as far as that is known, then forwards.
            const Eigen::MatrixXf& forwards = traces_[static_cast<std::size_t>(each.pass)].*what;
            const Eigen::MatrixXf& backwards = traces_[static_cast<std::size_t>(each.pass + passes_)].*what;
            const Eigen::MatrixXf& from = each.reversed && k < backwards.cols() ? backwards : forwards;
            columns.push_back(from.col(k).data() + first);
            shares.push_back(each.share * share);
        };
        add_column(at.column, 1 - at.share);
        if (at.share > 0)
            add_column(at.column + 1, at.share);
    }
    distortion::best_dense_kernel().add_float_columns(sum.data(), shares.data(), columns.data(),
                                                      static_cast<int>(columns.size()), static_cast<int>(sum.size()));
}

void HeatTable::at(double time_s, const std::vector<Welded>& welded, HeatState& state) const {
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(rows_ + groups_);
    add(time_s, welded, &Trace::after, 0, sum);
    state.of_rows = sum.head(rows_);
    state.group_j_per_kg = sum.segment(rows_, groups_);
}

Eigen::Vector3d HeatTable::halves_k(double time_s, const std::vector<Welded>& welded) const {
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(3);
    add(time_s, welded, &Trace::after, rows_ + groups_, sum);
    return sum;
}

double HeatTable::hottest_k(double time_s, const std::vector<Welded>& welded, int pass) const {
    constexpr int per_pass = static_cast<int>(places_per_pass);
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(pass < 0 ? passes_ * per_pass : per_pass);
    add(time_s, welded, &Trace::along_j_per_kg, std::max(0, pass) * per_pass, sum);
    return temperature_k(sum.size() > 0 ? sum.maxCoeff() : 0);
}

double HeatTable::temperature_k(double j_per_kg_above_ambient) const {
    const double place = std::max(0.0, j_per_kg_above_ambient) / heat_step_j_per_kg;
    const std::size_t low = std::min(static_cast<std::size_t>(place), temperature_of_heat_k_.size() - 2);
    const double share = std::min(1.0, place - static_cast<double>(low));
    return temperature_of_heat_k_[low] + share * (temperature_of_heat_k_[low + 1] - temperature_of_heat_k_[low]);
}

std::size_t HeatTable::bytes() const {
    std::size_t count = 0;
    for (const Trace& trace : traces_)
        count += static_cast<std::size_t>(trace.after.size() + trace.along_j_per_kg.size());
    return count * sizeof(float);
}

} // namespace holdtrue::weld
