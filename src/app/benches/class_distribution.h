// The marks of a class as bars. Fills the rest of the window.
#pragma once

#include "app/ui/ui.h"
#include "record/class_summary.h"

namespace holdtrue::app {

// How many plans have a mark in each ten points of a hundred and how many of these passed, with the mark to pass as a
// line.
void draw_distribution(Ui& ui, const record::ClassSummary& summary, double pass_mark);

} // namespace holdtrue::app
