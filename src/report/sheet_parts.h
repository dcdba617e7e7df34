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

} // namespace holdtrue::report
