// A sheet to fill in at the power source: what each dial mark gives. Its figures go into the shop file.
// Wire feed: the 6-second check (length fed in 6 s, times ten, is the feed of a minute; exact arithmetic).
// Volts: read under load, because an idle source shows far more than it welds with.
#pragma once

#include "arc/shop.h"
#include "units/quantity_text.h"

#include <optional>
#include <string>

namespace holdtrue::arc {

struct SheetRow {
    double mark = 0;
    std::optional<double> known; // SI, what the shop file has now
};
struct CalibrationSheet {
    std::string source;                // name; empty: none yet
    std::vector<SheetRow> feed, volts; // marks to measure, rising
};
// The marks of the source's dials where it has some, with halfway marks where two measured values lie far apart (more
// than a quarter of the span); 1 to 10 otherwise.
CalibrationSheet calibration_sheet(const PowerSource* source);

// How each of the two is measured, with its cautions: what text and printed sheet both say.
std::string feed_steps(units::System system);
std::string volts_steps();

// As plain text of at most 78 columns, with the steps, cautions and the lines to copy into the shop file.
std::string in_text(const CalibrationSheet& sheet, units::System system);

} // namespace holdtrue::arc
