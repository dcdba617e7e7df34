#include "arc/dial_fault.h"

#include "arc/power_source.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::arc {
namespace {

constexpr double endless = std::numeric_limits<double>::infinity();

void take(const DialFault& fault, double& low, double& high, std::vector<DeadRange>& dead) {
    for (const DeadRange& range : fault.dead) {
        if (!std::isfinite(range.low))
            low = std::max(low, range.high);
        if (!std::isfinite(range.high))
            high = std::min(high, range.low);
        dead.push_back(range);
    }
}

double settable(double wanted, double low, double high, const std::vector<DeadRange>& dead) {
    double value = std::clamp(wanted, low, high);
    for (const DeadRange& range : dead)
        if (range.holds(value))
            value = value - range.low < range.high - value ? range.low : range.high;
    return value;
}

} // namespace

DialFault read_dial_fault(text::Table& table, const std::optional<Dial>& dial) {
    table.know({"stuck", "works", "dead"});
    const int said = table.has("stuck") + table.has("works") + table.has("dead");
    if (said == 0)
        return {};
    const std::string key = table.has("stuck") ? "stuck" : table.has("works") ? "works" : "dead";
    if (said > 1) {
        table.problem(key, text::worded("the dial has more than one fault"),
                      text::worded("keep one of stuck, works and dead"));
        return {};
    }
    if (!dial || dial->points.size() < 2) {
        table.problem(key, text::worded("the power source has no measured dial that could be broken"),
                      text::worded("give the shop file a dial with its marks, or leave the fault out"));
        return {};
    }
    const std::vector<double> marks =
        key == "stuck" ? std::vector<double>{table.number(key)} : table.numbers(key, {}, 2);
    std::vector<double> values;
    for (const double mark : marks)
        try {
            values.push_back(value_at_mark(*dial, mark));
        } catch (const text::InputError& error) {
            table.problem(key, error.problems().front().what, error.problems().front().fix);
            return {};
        }
    if (values.size() != (key == "stuck" ? 1U : 2U))
        return {};
    if (values.size() == 2 && values[0] >= values[1]) {
        table.problem(key, text::worded("the marks do not rise"), text::worded("give the lower mark first"));
        return {};
    }
    if (key == "dead")
        return {{{values[0], values[1]}}};
    return {{{-endless, values.front()}, {values.back(), endless}}};
}

double settable_volts_v(const PowerSource& source, double wanted_v) {
    return settable(wanted_v, source.volts_low_v, source.volts_high_v, source.volts_dead);
}
double settable_feed_m_per_s(const PowerSource& source, double wanted_m_per_s) {
    return settable(wanted_m_per_s, source.feed_low_m_per_s, source.feed_high_m_per_s, source.feed_dead);
}

void break_volts_dial(PowerSource& source, const DialFault& fault) {
    take(fault, source.volts_low_v, source.volts_high_v, source.volts_dead);
}
void break_feed_dial(PowerSource& source, const DialFault& fault) {
    take(fault, source.feed_low_m_per_s, source.feed_high_m_per_s, source.feed_dead);
}

} // namespace holdtrue::arc
