#include "distortion/tendon_table.h"

#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {
namespace {

// Of the yield stress. Closer where the ratio bends most.
constexpr std::array prior_levels{-0.9, -0.75, -0.6, -0.45, -0.3, -0.15, 0.0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.95};
constexpr double wide_m = 0.2;    // a member so wide that its far edge does not matter
constexpr double rest_ratio = 10; // area of cold metal that holds it, for that of the strips

// Temperatures of a section from before the torch until it is evenly warm.
struct History {
    std::vector<std::vector<double>> temperature_k;
    bool converged;
};

History pass_and_cool(const StripSection& section, const TendonCase& of, const StripMetal& metal,
                      const HeatSettings& settings, double start_k) {
    SectionHeat heat(section, metal, settings, start_k);
    TorchPass torch{0, of.heat_j_per_m, of.travel_m_per_s, of.sigma_m, of.share_a};
    History history{heat.pass(torch).temperature_k, true};
    while (!heat.is_even()) {
        heat.cool(1e6);
        history.temperature_k.push_back(heat.temperature_k());
    }
    history.converged = heat.converged();
    return history;
}

StripResult shrink(const StripSection& section, const History& history, const StripMetal& metal,
                   const StripSupport& support, double start_k, double ambient_k) {
    StripMechanics strips(section, metal, support, start_k);
    for (const std::vector<double>& temperature_k : history.temperature_k)
        strips.advance(temperature_k);
    strips.cool_evenly(history.temperature_k.back().front(), ambient_k);
    return strips.result(0);
}

double strip_width(const StripResult& result) { return result.side_strip_m[0] + result.side_strip_m[1]; }

// Interval and place in it of a value in a rising table, held at the ends.
template <typename Table>
std::pair<std::size_t, double> locate(const Table& table, double value) {
    const double held = std::clamp(value, table.front(), table.back());
    std::size_t i = 0;
    while (i + 2 < table.size() && held > table[i + 1])
        ++i;
    return {i, (held - table[i]) / (table[i + 1] - table[i])};
}

} // namespace

TendonTable::TendonTable(const TendonCase& of, const HeatSettings& heat, const Grading& grading)
    : start_k_{units::celsius(20), units::celsius(100), units::celsius(200), units::celsius(300)},
      yield_pa_(std::min(of.a.yield_pa, of.b.yield_pa)) {
    if (of.heat_j_per_m <= 0) { // no heat, no force, whatever the state
        for (Curve* curve : {&used_, &other_}) {
            curve->unstressed.resize(start_k_.size());
            curve->force_ratio.assign(start_k_.size() * prior_levels.size(), 1.0);
            curve->strip_ratio = curve->force_ratio;
        }
        return;
    }
    TendonCase wide = of;
    wide.a.width_m = std::max(of.a.width_m, wide_m);
    wide.b.width_m = std::max(of.b.width_m, wide_m);
    const StripSection section = joint_section(of.a, of.b, of.b_across, grading);
    const StripSection wide_section = joint_section(wide.a, wide.b, wide.b_across, grading);
    double wide_area = 0;
    for (const Strip& strip : wide_section.strips)
        wide_area += strip.area_m2();

    const StripMetal effective(YieldCurve::effective), proof(YieldCurve::proof);
    for (const double start_k : start_k_) {
        // Heat does not depend on strength: one history serves both curves.
        const History history = pass_and_cool(section, of, effective, heat, start_k);
        const History wide_history = pass_and_cool(wide_section, wide, effective, heat, start_k);
        converged_ = converged_ && history.converged && wide_history.converged;
        for (auto [curve, metal] : {std::pair{&used_, &effective}, std::pair{&other_, &proof}}) {
            const StripResult plain = shrink(section, history, *metal, {of.bends, 0, 0}, start_k, heat.ambient_k);
            curve->unstressed.push_back({plain.side_force_n, plain.side_strip_m, 0});
            converged_ = converged_ && plain.converged;
            std::vector<StripResult> held;
            for (const double level : prior_levels) {
                const StripSupport support{false, level * yield_pa_, rest_ratio * wide_area};
                held.push_back(shrink(wide_section, wide_history, *metal, support, start_k, heat.ambient_k));
                converged_ = converged_ && held.back().converged;
            }
            const StripResult& unstressed = held[std::ranges::find(prior_levels, 0.0) - prior_levels.begin()];
            for (const StripResult& result : held) {
                curve->force_ratio.push_back(result.tendon_force_n / unstressed.tendon_force_n);
                curve->strip_ratio.push_back(strip_width(result) / strip_width(unstressed));
            }
        }
    }
}

Tendon TendonTable::at(double start_k, double prior_stress_pa) const {
    const auto [i, x] = locate(start_k_, start_k);
    const auto [j, y] = locate(prior_levels, prior_stress_pa / yield_pa_);
    auto ratio = [&, i = i, x = x, j = j, y = y](const std::vector<double>& table) {
        const double* low = &table[i * prior_levels.size() + j];
        const double* high = low + prior_levels.size();
        return (1 - x) * ((1 - y) * low[0] + y * low[1]) + x * ((1 - y) * high[0] + y * high[1]);
    };
    auto read = [&, i = i, x = x](const Curve& curve) {
        Tendon tendon;
        const double force_ratio = ratio(curve.force_ratio), strip_ratio = ratio(curve.strip_ratio);
        for (int side : {0, 1}) {
            const Tendon &low = curve.unstressed[i], &high = curve.unstressed[i + 1];
            tendon.force_n[side] = force_ratio * ((1 - x) * low.force_n[side] + x * high.force_n[side]);
            tendon.strip_m[side] = strip_ratio * ((1 - x) * low.strip_m[side] + x * high.strip_m[side]);
        }
        return tendon;
    };
    Tendon tendon = read(used_);
    const Tendon other = read(other_);
    tendon.band_n = std::abs(tendon.force_n[0] + tendon.force_n[1] - other.force_n[0] - other.force_n[1]);
    return tendon;
}

} // namespace holdtrue::distortion
