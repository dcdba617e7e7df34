// Printed sheets (PDF, A4 or Letter): the report of an attempt, the order sheet to hang at the fixture, and the
// calibration sheet to fill in at the power source.
#pragma once

#include "arc/calibration_sheet.h"
#include "grading/exercise.h"
#include "grading/mark.h"
#include "report/canvas.h"
#include "units/quantity_text.h"
#include "weld/outcome.h"

namespace holdtrue::report {

struct SheetOptions {
    Paper paper = Paper::a4;
    units::System system = units::System::metric;
};

// Mark and breakdown, pictures, gauges, every remark, settings in units and dial marks, cautions.
void save_attempt_report(const std::filesystem::path& path, const grading::Exercise& exercise,
                         const weld::Outcome& outcome, const grading::Mark& mark, const SheetOptions& options = {});

// Numbered passes on views of the part with their direction; setting cards in units and dial marks; every move with
// waits, turns and clamps, a box to tick and a place to write; gauges to check; cautions.
void save_order_sheet(const std::filesystem::path& path, const grading::Exercise& exercise,
                      const weld::Outcome& outcome, const SheetOptions& options = {});

// One page: each dial mark with room for what it gives, how to measure it, and what goes into the shop file.
void save_calibration_sheet(const std::filesystem::path& path, const arc::CalibrationSheet& sheet,
                            const SheetOptions& options = {});

} // namespace holdtrue::report
