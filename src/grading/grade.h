// Marks an outcome against its exercise. Five aspects, each worth the points of Exercise::weights:
//   settings           every card on every joint it welds, by the rule book: a caution costs 15 % of it, a failed
//                      rule half
//   order and heat     interpass temperature before every arc, evenness of the part's halves, tacks before seams
//   gauges             credit 1 / (1 + (error / 1.25 tolerance)^4) each: smooth, and falling with every error
//   prediction         which way each gauge would move; where it hardly moves either of two answers counts
//   time and handling  time at the bench and turns, scaled by the credit of the weakest of settings, order and heat,
//                      and gauges, so that a quick wrong plan gains nothing
// Hints that the plan says were taken come off the total, which never falls below 0.
// Everything is scaled by the share of the required passes that were welded. The points lost by an aspect's remarks
// add up to what the aspect did not reach. Nothing stored in a file is trusted: the mark is made from the outcome.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "units/quantity_text.h"
#include "weld/outcome.h"

namespace holdtrue::grading {

Mark grade(const Exercise& exercise, const weld::Outcome& outcome, units::System system = units::System::metric,
           Advice advice = Advice::whole_cards);

// What the order decides of a mark, for comparing orders: order and heat, gauges, and time and handling as it counts
// where no setting is worse than these.
struct OrderPoints {
    double reached = 0, possible = 0;
};
OrderPoints order_points(const Exercise& exercise, const weld::Outcome& outcome);

// Points that the first `taken` hints cost together.
double cost_of_hints(const Exercise& exercise, int taken);

// Credit of one gauge, 1 (nominal) falling to 0; tolerance > 0.
double gauge_credit(double error, double tolerance);

// What a remark advises, for a list of the mark's remarks: in full the first time only where it is advised for a card
// several times over.
text::Sentence advice_in_list(const Mark& mark, std::size_t remark);

text::Wording title_of(Aspect aspect); // "Settings"

} // namespace holdtrue::grading
