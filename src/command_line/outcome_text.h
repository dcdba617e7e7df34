// The tables that `holdtrue weld` prints.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "units/quantity_text.h"
#include "weld/outcome.h"

#include <string>

namespace holdtrue::command_line {

std::string moves_text(const grading::Exercise& exercise, const weld::Outcome& outcome, const grading::Mark& mark,
                       units::System system);
std::string gauges_text(const weld::Outcome& outcome, units::System system);
// Breakdown, verdict, and the remarks that cost points or warn.
std::string mark_text(const grading::Exercise& exercise, const grading::Mark& mark);

} // namespace holdtrue::command_line
