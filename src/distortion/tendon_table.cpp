#include "distortion/tendon_table.h"

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

std::vector<StripMechanics::Moment> moments_of(const StripSection& section, const History& history,
                                               const StripMetal& metal) {
    std::vector<StripMechanics::Moment> moments;
    for (const std::vector<double>& temperature_k : history.temperature_k)
        moments.push_back(StripMechanics::moment(section, metal, temperature_k));
    return moments;
}

StripResult shrink(const StripSection& section, const History& history,
                   const std::vector<StripMechanics::Moment>& moments, const StripMetal& metal,
                   const StripSupport& support, double start_k, double ambient_k) {
    StripMechanics strips(section, metal, support, start_k);
    for (const StripMechanics::Moment& moment : moments)
        strips.advance(moment);
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

const TendonTable::Row& TendonTable::row(std::size_t index) const {
    Row& row = rows_[index];
    std::call_once(row.made, [&] { make(row, start_k[index]); });
    return row;
}

bool TendonTable::converged() const {
    bool all = true;
    for (std::size_t k = 0; k < rows_.size(); ++k)
        all = row(k).converged && all;
    return all;
}

void TendonTable::make(Row& row, double start) const {
    if (of_.heat_j_per_m <= 0) { // no heat, no force, whatever the stress
        for (Curve* curve : {&row.used, &row.other})
            curve->strip_ratio = curve->force_ratio = std::vector<double>(prior_levels.size(), 1.0);
        return;
    }
    TendonCase wide = of_;
    wide.a.width_m = std::max(of_.a.width_m, wide_m);
    wide.b.width_m = std::max(of_.b.width_m, wide_m);
    const StripSection section = joint_section(of_.a, of_.b, of_.b_across, grading_);
    const StripSection wide_section = joint_section(wide.a, wide.b, wide.b_across, grading_);
    double wide_area = 0;
    for (const Strip& strip : wide_section.strips)
        wide_area += strip.area_m2();

    static const StripMetal effective(YieldCurve::effective), proof(YieldCurve::proof);
    // Heat does not depend on strength: one history serves both curves.
    const History history = pass_and_cool(section, of_, effective, heat_, start);
    const History wide_history = pass_and_cool(wide_section, wide, effective, heat_, start);
    row.converged = history.converged && wide_history.converged;
    for (auto [curve, metal] : {std::pair{&row.used, &effective}, std::pair{&row.other, &proof}}) {
        const StripResult plain = shrink(section, history, moments_of(section, history, *metal), *metal,
                                         {of_.bends, 0, 0}, start, heat_.ambient_k);
        curve->unstressed = {plain.side_force_n, plain.side_strip_m, 0};
        row.converged = row.converged && plain.converged;
        const auto moments = moments_of(wide_section, wide_history, *metal);
        std::vector<StripResult> held;
        for (const double level : prior_levels) {
            const StripSupport support{false, level * yield_pa(), rest_ratio * wide_area};
            held.push_back(shrink(wide_section, wide_history, moments, *metal, support, start, heat_.ambient_k));
            row.converged = row.converged && held.back().converged;
        }
        const StripResult& unstressed = held[std::ranges::find(prior_levels, 0.0) - prior_levels.begin()];
        for (const StripResult& result : held) {
            curve->force_ratio.push_back(result.tendon_force_n / unstressed.tendon_force_n);
            curve->strip_ratio.push_back(strip_width(result) / strip_width(unstressed));
        }
    }
}

Tendon TendonTable::at(double start, double prior_stress_pa) const {
    const auto [i, x] = locate(start_k, start);
    const auto [j, y] = locate(prior_levels, prior_stress_pa / yield_pa());
    const Row &low = row(i), &high = row(x > 0 ? i + 1 : i);
    const auto read = [x = x, j = j, y = y](const Curve& cool, const Curve& warm) {
        const auto between = [&](const std::vector<double>& ratio) { return (1 - y) * ratio[j] + y * ratio[j + 1]; };
        const double force_ratio = (1 - x) * between(cool.force_ratio) + x * between(warm.force_ratio);
        const double strip_ratio = (1 - x) * between(cool.strip_ratio) + x * between(warm.strip_ratio);
        Tendon tendon;
        for (const std::size_t side : {0, 1}) {
            tendon.force_n[side] =
                force_ratio * ((1 - x) * cool.unstressed.force_n[side] + x * warm.unstressed.force_n[side]);
            tendon.strip_m[side] =
                strip_ratio * ((1 - x) * cool.unstressed.strip_m[side] + x * warm.unstressed.strip_m[side]);
        }
        return tendon;
    };
    Tendon tendon = read(low.used, high.used);
    const Tendon other = read(low.other, high.other);
    tendon.band_n = std::abs(tendon.force_n[0] + tendon.force_n[1] - other.force_n[0] - other.force_n[1]);
    return tendon;
}

} // namespace holdtrue::distortion
