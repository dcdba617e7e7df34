#include "part/gauge_limit.h"

#include "part/gauge.h"
#include "part/iso_13920.h"
#include "units/quantity_text.h"

#include <algorithm>
#include <numbers>

namespace holdtrue::part {
namespace {

using text::worded;
using units::mm;

double apart(const Gauge& gauge, std::size_t a, std::size_t b) { return (gauge.point[b] - gauge.point[a]).norm(); }

// The length a class looks up.
double deciding_length(const Gauge& gauge) {
    switch (gauge.kind) {
    case GaugeKind::distance:
    case GaugeKind::tilt:
        return apart(gauge, 0, 1);
    case GaugeKind::bow:
        return apart(gauge, 0, gauge.point.size() - 1);
    case GaugeKind::twist:
        return std::min(apart(gauge, 0, 1), apart(gauge, 2, 3));
    case GaugeKind::squareness:
        return 0.5 * (apart(gauge, 0, 2) + apart(gauge, 1, 3));
    case GaugeKind::angle:
        return std::min(apart(gauge, 0, 1), apart(gauge, 0, 2));
    case GaugeKind::flatness: {
        double longest = 0;
        for (std::size_t a = 0; a < gauge.point.size(); ++a)
            for (std::size_t b = 0; b < a; ++b)
                longest = std::max(longest, apart(gauge, a, b));
        return longest;
    }
    }
    return 0;
}

struct Lookup {
    std::optional<double> tolerance;
    text::Wording source; // {0} the class, {1} the length
    text::Wording classes;
};

Lookup look_up(const Gauge& gauge, char tolerance_class) {
    const double length = deciding_length(gauge);
    if (is_angle(gauge.kind))
        return {iso_13920::angular_rad(tolerance_class, length), worded("ISO 13920 class {0} (angular) at {1}"),
                worded("A to D")};
    if (gauge.kind == GaugeKind::bow || gauge.kind == GaugeKind::flatness)
        return {iso_13920::straightness_m(tolerance_class, length),
                worded("ISO 13920 class {0} (straightness and flatness) at {1}"),
                worded("E to H, for lengths of 30 mm and more")};
    // The standard has no table of its own for diagonals: they are linear dimensions.
    return {iso_13920::linear_m(tolerance_class, length),
            gauge.kind == GaugeKind::squareness ? worded("ISO 13920 class {0} (linear, on the diagonals) at {1}")
                                                : worded("ISO 13920 class {0} (linear) at {1}"),
            worded("A to D, for lengths of 2 mm and more")};
}

void set_class(text::Table& table, Gauge& gauge, const std::string& tolerance_class) {
    const Lookup found = look_up(gauge, tolerance_class.size() == 1 ? tolerance_class[0] : ' ');
    if (!found.tolerance) {
        table.problem("class",
                      {worded("ISO 13920 gives no class \"{0}\" for this gauge of {1}"),
                       {tolerance_class, units::length_text(deciding_length(gauge))}},
                      {worded("here the classes are {0}"), {found.classes}});
        return;
    }
    gauge.tolerance = *found.tolerance;
    gauge.tolerance_source =
        text::Sentence(found.source, {tolerance_class, units::length_text(deciding_length(gauge))});
}

} // namespace

bool is_angle(GaugeKind kind) {
    return kind == GaugeKind::twist || kind == GaugeKind::angle || kind == GaugeKind::tilt;
}

void read_limit(text::Table& table, Gauge& gauge) {
    const std::optional<double> own =
        is_angle(gauge.kind)
            ? table.optional_quantity("tolerance", units::angle, {0.001 * std::numbers::pi / 180, std::numbers::pi / 4})
            : table.optional_quantity("tolerance", units::length, {0.01 * mm, 100 * mm});
    if (!own && table.has_quantity("tolerance", is_angle(gauge.kind) ? units::length : units::angle))
        table.problem(
            "tolerance",
            {is_angle(gauge.kind) ? worded("gauge {0} is read in degrees") : worded("gauge {0} is read in mm"),
             {gauge.name}},
            is_angle(gauge.kind) ? worded("write tolerance_deg") : worded("write tolerance_mm"));
    const std::string tolerance_class = table.text("class", "");
    if (own && !tolerance_class.empty())
        table.problem("class", worded("the gauge has both an own tolerance and a class"),
                      worded("keep one of the two"));
    if (own) {
        gauge.tolerance = *own;
        gauge.tolerance_source = worded("own limit");
    } else if (!tolerance_class.empty())
        set_class(table, gauge, tolerance_class);
    else if (gauge.tolerance == 0)
        set_class(table, gauge, gauge.kind == GaugeKind::bow || gauge.kind == GaugeKind::flatness ? "F" : "B");
}

} // namespace holdtrue::part
