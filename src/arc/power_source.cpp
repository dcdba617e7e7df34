#include "arc/power_source.h"

#include "text/input_error.h"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace holdtrue::arc {
namespace {

std::string number(double value) {
    std::ostringstream out;
    out.precision(4);
    out << value;
    return out.str();
}

} // namespace

std::optional<double> duty_at(const PowerSource& source, double current_a) {
    if (source.rated_current_a <= 0 || source.rated_duty <= 0)
        return std::nullopt;
    if (current_a <= 0)
        return 1.0;
    const double ratio = source.rated_current_a / current_a;
    return std::min(1.0, source.rated_duty * ratio * ratio);
}

std::optional<double> continuous_current_a(const PowerSource& source) {
    if (source.rated_current_a <= 0 || source.rated_duty <= 0)
        return std::nullopt;
    return source.rated_current_a * std::sqrt(source.rated_duty);
}

double value_at_mark(const Dial& dial, double mark) {
    constexpr double hair = 1e-9;
    for (std::size_t i = 1; i < dial.points.size(); ++i) {
        const DialPoint &a = dial.points[i - 1], &b = dial.points[i];
        if (mark >= a.mark - hair && mark <= b.mark + hair)
            return std::lerp(a.value, b.value, std::clamp((mark - a.mark) / (b.mark - a.mark), 0.0, 1.0));
    }
    const std::string low = dial.points.empty() ? "?" : number(dial.points.front().mark);
    const std::string high = dial.points.empty() ? "?" : number(dial.points.back().mark);
    throw text::InputError(
        "", 0,
        {text::worded("mark {0} of dial \"{1}\" was not measured"), {number(mark), text::Sentence::of_file(dial.name)}},
        {text::worded("it was measured from {0} to {1}; stay within, or measure that mark and add it to the shop file"),
         {low, high}});
}

std::optional<double> mark_if_measured(const Dial& dial, double value) {
    const double hair = 1e-9 * std::abs(value);
    for (std::size_t i = 1; i < dial.points.size(); ++i) {
        const DialPoint &a = dial.points[i - 1], &b = dial.points[i];
        const auto [low, high] = std::minmax(a.value, b.value);
        if (value >= low - hair && value <= high + hair)
            return a.value == b.value
                       ? a.mark
                       : std::lerp(a.mark, b.mark, std::clamp((value - a.value) / (b.value - a.value), 0.0, 1.0));
    }
    return std::nullopt;
}

double mark_at_value(const Dial& dial, double value) {
    if (const auto mark = mark_if_measured(dial, value))
        return *mark;
    double low = 0, high = 0;
    if (!dial.points.empty()) {
        const auto [least, most] = std::ranges::minmax(dial.points, {}, &DialPoint::value);
        low = least.value;
        high = most.value;
    }
    throw text::InputError(
        "", 0,
        {text::worded("dial \"{0}\" was not measured at {1}"), {text::Sentence::of_file(dial.name), number(value)}},
        {text::worded("its measured points give {0} to {1}; measure further marks and add them to the shop file"),
         {number(low), number(high)}});
}

} // namespace holdtrue::arc
