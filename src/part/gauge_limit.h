// The allowed deviation of a gauge: an own limit, or that of an ISO 13920 class for the gauge's kind and size.
#pragma once

#include "part/part.h"
#include "text/toml_reader.h"

namespace holdtrue::part {

// twist, angle and tilt are read in radians, the others in metres.
bool is_angle(GaugeKind kind);

// Reads tolerance_mm, tolerance_deg or class = "B" of a table into gauge.tolerance and tolerance_source. With none
// of them the gauge keeps what it has, and a gauge that has none gets class B (for straightness and flatness, F).
void read_limit(text::Table& table, Gauge& gauge);

} // namespace holdtrue::part
