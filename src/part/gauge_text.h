// Writes a gauge's reading, or a change of it, for a person.
#pragma once

#include "part/part.h"
#include "units/quantity_text.h"

namespace holdtrue::part {

inline bool is_angle(GaugeKind kind) {
    return kind == GaugeKind::twist || kind == GaugeKind::angle || kind == GaugeKind::tilt;
}

inline std::string gauge_text(const Gauge& gauge, double value, units::System system = units::System::metric) {
    return is_angle(gauge.kind) ? units::angle_text(value) : units::length_text(value, system);
}

inline std::string gauge_change_text(const Gauge& gauge, double change, units::System system = units::System::metric) {
    const std::string text = gauge_text(gauge, change, system);
    const bool zero = text.find_first_of("123456789") == std::string::npos;
    return text.front() == '-' || zero ? text : "+" + text;
}

} // namespace holdtrue::part
