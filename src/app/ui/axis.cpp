#include "app/ui/axis.h"

#include "text/true_minus.h"
#include "units/quantity_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

std::vector<double> ticks(double low, double high, int count, bool time) {
    const double raw = (high - low) / count, power = std::pow(10, std::floor(std::log10(raw)));
    double step = power;
    for (const double factor : {2.0, 5.0, 10.0})
        if (step < raw)
            step = factor * power;
    if (time && raw > 5)
        for (const double seconds :
             {86400.0, 43200.0, 21600.0, 7200.0, 3600.0, 1800.0, 900.0, 600.0, 300.0, 120.0, 60.0, 30.0, 10.0})
            if (seconds >= raw)
                step = seconds;
    std::vector<double> values;
    for (double value = std::ceil(low / step) * step; value <= high + 1e-9 * step; value += step)
        values.push_back(value);
    return values;
}

std::vector<Tick> ticks_in(const units::Unit& unit, double low, double high, int count) {
    // Zero alone is no scale: where the steps reach beyond the ends, smaller ones.
    const std::size_t fewest = low < 0 && high > 0 ? 3 : 2;
    std::vector<double> round;
    for (const int most = 3 * count; round.size() < fewest && count <= most; ++count)
        round = ticks(unit.from_si(low), unit.from_si(high), count, false);
    const double step = round.size() > 1 ? round[1] - round[0] : std::abs(round.empty() ? 1 : round[0]);
    const int decimals = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
    const std::string label(unit.label);
    std::vector<Tick> marks;
    for (const double value : round) {
        const bool zero = std::abs(value) < 0.5 * step;
        std::string text = zero ? "0" : units::number_text(value, decimals);
        if (low < 0 && high > 0 && value > 0 && !zero)
            text.insert(0, "+");
        if (!label.empty())
            text += (label == "°" ? "" : " ") + label;
        marks.push_back({unit.to_si(value), text::true_minus(text)});
    }
    return marks;
}

} // namespace holdtrue::app
