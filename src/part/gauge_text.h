// Writes a gauge's reading, or a change of it, for a person.
#pragma once

#include "part/part.h"
#include "units/apart_text.h"
#include "units/quantity_text.h"

#include <cmath>

namespace holdtrue::part {

inline bool is_angle(GaugeKind kind) {
    return kind == GaugeKind::twist || kind == GaugeKind::angle || kind == GaugeKind::tilt;
}

inline const units::Dimension& dimension_of(GaugeKind kind) { return is_angle(kind) ? units::angle : units::length; }

inline std::string gauge_text(const Gauge& gauge, double value, units::System system = units::System::metric) {
    return is_angle(gauge.kind) ? units::angle_text(value) : units::reading_text(value, system);
}

inline std::string gauge_change_text(const Gauge& gauge, double change, units::System system = units::System::metric) {
    const std::string text = gauge_text(gauge, change, system);
    const bool zero = text.find_first_of("123456789") == std::string::npos;
    return text.front() == '-' || zero ? text : "+" + text;
}

// How far off a gauge reads. Beyond its limit by less than is usually written, it reads so: -0.1203 mm at ±0.12 mm.
inline std::string gauge_error_text(const Gauge& gauge, double error, units::System system = units::System::metric) {
    const bool reads_as_kept = gauge_text(gauge, std::abs(error), system) == gauge_text(gauge, gauge.tolerance, system);
    if (std::abs(error) <= gauge.tolerance || !reads_as_kept)
        return gauge_change_text(gauge, error, system);
    return (error < 0 ? "-" : "+") +
           units::apart_texts(std::abs(error), gauge.tolerance, dimension_of(gauge.kind), system).one;
}

} // namespace holdtrue::part
