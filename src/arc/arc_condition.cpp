#include "arc/arc_condition.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>
#include <utility>

namespace holdtrue::arc {
namespace {

using material::Metal;

// Volts off the usual line. common practice, no source
constexpr double stubbing_off_v = -2.0, short_side_off_v = -1.3, long_side_off_v = 1.5, too_long_off_v = 2.5;
constexpr double short_circuit_most_v = 22.0; // above it drops part before they touch. common practice, no source

using SizeAndCurrent = std::pair<double, double>; // wire [m], spray from [A]
constexpr std::array<SizeAndCurrent, 5> steel_spray{
    {{0.762e-3, 150}, {0.889e-3, 165}, {1.143e-3, 220}, {1.321e-3, 240}, {1.588e-3, 275}}};
constexpr std::array<SizeAndCurrent, 3> stainless_spray{{{0.889e-3, 170}, {1.143e-3, 225}, {1.588e-3, 285}}};
constexpr std::array<SizeAndCurrent, 3> aluminium_spray{{{0.762e-3, 95}, {1.191e-3, 135}, {1.588e-3, 180}}};

// Linear in diameter; beyond the ends in proportion to it.
double at_size(std::span<const SizeAndCurrent> table, double diameter_m) {
    if (diameter_m <= table.front().first)
        return table.front().second * diameter_m / table.front().first;
    for (std::size_t i = 1; i < table.size(); ++i)
        if (diameter_m <= table[i].first)
            return std::lerp(table[i - 1].second, table[i].second,
                             (diameter_m - table[i - 1].first) / (table[i].first - table[i - 1].first));
    return table.back().second * diameter_m / table.back().first;
}

double short_circuit_line_v(const ArcSetting& setting) {
    return 12.3 + 0.0525 * setting.current_a + 2.67 * (setting.gas.co2 - 0.25);
}

double usual_volts(const ArcSetting& setting, Transfer transfer, std::optional<double> spray_from_a) {
    switch (setting.process) {
    case Process::tig_141:
        return 10 + 0.013 * setting.current_a;
    case Process::fcaw_gas_136:
        return 14.5 + 0.05 * setting.current_a;
    case Process::fcaw_self_114:
        return 11 + 0.05 * setting.current_a;
    case Process::mag_135:
    case Process::mig_131:
        break;
    }
    const double line = short_circuit_line_v(setting);
    if (transfer == Transfer::spray && spray_from_a)
        return std::max(line, 24 + 0.046 * (setting.current_a - *spray_from_a));
    return line;
}

Transfer transfer_of(const ArcSetting& setting, std::optional<double> spray_from_a) {
    if (setting.process == Process::tig_141)
        return Transfer::tig;
    if (spray_from_a && setting.current_a >= *spray_from_a && setting.volts_v >= short_circuit_most_v)
        return Transfer::spray;
    const double co2_shift = 2.67 * std::max(0.0, setting.gas.co2 - 0.25);
    return setting.volts_v <= short_circuit_most_v + co2_shift ? Transfer::short_circuit : Transfer::globular;
}

Condition condition_of(double off_v) {
    if (off_v < stubbing_off_v)
        return Condition::stubbing;
    if (off_v < short_side_off_v)
        return Condition::short_side;
    if (off_v > too_long_off_v)
        return Condition::too_long;
    return off_v > long_side_off_v ? Condition::long_side : Condition::steady;
}

} // namespace

std::optional<double> spray_current_a(double wire_diameter_m, Metal metal, const material::GasMixture& gas) {
    constexpr double most_co2 = 0.20, hair = 1e-6;
    if (gas.argon < 0.75 || gas.co2 > most_co2 + hair)
        return std::nullopt;
    const double in_argon = metal == Metal::aluminium   ? at_size(aluminium_spray, wire_diameter_m)
                            : metal == Metal::stainless ? at_size(stainless_spray, wire_diameter_m)
                                                        : at_size(steel_spray, wire_diameter_m);
    return in_argon * (1 + 6.25 * gas.co2 * gas.co2);
}

ArcState arc_state(const ArcSetting& setting) {
    ArcState state;
    const bool tubular = setting.process == Process::fcaw_gas_136 || setting.process == Process::fcaw_self_114;
    if (!tubular && setting.process != Process::tig_141)
        state.spray_from_a = spray_current_a(setting.wire_diameter_m, setting.wire.metal, setting.gas);
    state.transfer = transfer_of(setting, state.spray_from_a);
    state.usual_volts_v = usual_volts(setting, state.transfer, state.spray_from_a);
    state.off_volts_v = setting.volts_v - state.usual_volts_v;
    state.condition = condition_of(state.off_volts_v);

    if (state.transfer == Transfer::short_circuit && !tubular && setting.current_a > 0) {
        const double drop_m = setting.wire_diameter_m * std::clamp(1.2 + 0.08 * state.off_volts_v, 0.9, 1.6);
        const double drop_m3 = std::numbers::pi / 6 * drop_m * drop_m * drop_m;
        state.shorts_per_s = setting.wire_feed_m_per_s * material::wire_area_m2(setting.wire_diameter_m) / drop_m3;
        state.steadiness = std::exp(-std::pow(state.off_volts_v / 1.8, 2));
    }
    return state;
}

double load_volts_v(Process process, double current_a) {
    if (process == Process::tig_141)
        return std::min(10 + 0.04 * current_a, 34.0);
    return std::min(14 + 0.05 * current_a, 44.0);
}

text::Wording in_words(Transfer transfer) {
    using text::worded;
    switch (transfer) {
    case Transfer::short_circuit:
        return worded("short-circuit");
    case Transfer::globular:
        return worded("globular");
    case Transfer::spray:
        return worded("spray");
    case Transfer::tig:
        break;
    }
    return worded("TIG arc");
}

const char* in_words(Condition condition) {
    switch (condition) {
    case Condition::stubbing:
        return "stubbing";
    case Condition::short_side:
        return "on the short side";
    case Condition::steady:
        return "steady";
    case Condition::long_side:
        return "on the long side";
    case Condition::too_long:
        return "too long";
    }
    return "";
}

} // namespace holdtrue::arc
