// Pieces that more than one printed sheet has.
#pragma once

#include "arc/shop.h"
#include "report/page_flow.h"
#include "report/sheet.h"

namespace holdtrue::report {

// Every setting card of a plan: values in units, and the dial marks of the shop's power source beside them.
void add_setting_cards(PageFlow& page, const weld::Outcome& outcome, units::System system);
// The exercise's own cautions, then what holds for all welding, deferring to local codes and licensed practice.
void add_cautions(PageFlow& page, const grading::Exercise& exercise);

// "seam_top/3, backwards"; "wait at least 2 min 00 s and until below 60 °C"; "turn to 'underside'"; "free clamp 'tip'"
std::string move_text(const weld::Outcome& outcome, std::size_t move, units::System system);

} // namespace holdtrue::report
