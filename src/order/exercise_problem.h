// An exercise as a problem of order: its own marks decide what is good.
#pragma once

#include "grading/exercise.h"
#include "order/search.h"
#include "weld/rehearsal.h"

namespace holdtrue::order {

// Largest deviation of any gauge, in parts of its limit.
double worst_share(const part::Part& part, const Finding& finding);

Finding finding_of(const grading::Exercise& exercise, const OrderSpace& space, const Order& order,
                   const weld::Outcome& outcome);

// Whether the exercise cannot be passed with a start beyond the interpass limit.
bool must_stay_cool(const grading::Exercise& exercise);
// How hot each pass (pass_count) may start in a rehearsal: 3 % of the rise below the interpass limit; and where a full
// simulation of the order found a start hotter than the rehearsal did, lower by as much.
std::vector<double> start_limits_k(const grading::Exercise& exercise);
std::vector<double> start_limits_k(const grading::Exercise& exercise, const weld::Outcome& rehearsed,
                                   const weld::Outcome& simulated);
// The order of a plan, with its waits for a temperature as long as they take when it is rehearsed.
Order order_as_rehearsed(const OrderSpace& space, const weld::Rehearsal& rehearsal, weld::Plan plan);
// The order with waits as long as it takes, and no longer, for every pass to start below its limit; its own waits are
// the least.
Order cooled(const OrderSpace& space, const weld::Rehearsal& rehearsal, const Order& order,
             const std::vector<double>& start_limits_k);

// Orders rehearsed; where the exercise cannot be passed with a start beyond the interpass limit, cooled(). cost: the
// points lost for order and heat, gauges, time and handling; worst_share() beside them, so that of two orders with full
// marks the truer one wins; and 20 for every limit's width that a gauge is beyond it, or a start beyond the interpass
// limit where the exercise cannot be passed without. distortion: worst_share(). What is passed must outlive the
// problem.
Problem exercise_problem(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal);

// Cost: worst_share().
Problem limits_problem(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal);
// Among orders whose gauges all keep their limits, with a tenth to spare, the one with the fewest phrases wins.
Problem simplest_problem(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal);

// Every pass forwards as the part file lists them, no waits, clamps off last: what comes of not thinking about it.
Order listed_order(const OrderSpace& space, const Order& like);

} // namespace holdtrue::order
