// Whether a plan can be carried out: the one rule for plans from files and from the window.
#pragma once

#include "arc/shop.h"
#include "part/part.h"
#include "text/input_error.h"
#include "weld/plan.h"

#include <optional>
#include <vector>

namespace holdtrue::weld {

struct PlanProblem {
    int move = -1, card = -1, prediction = -1; // which entry of the plan it is about; -1: not that
    text::Problem told;                        // file and line are those of the plan's file, if it has one
};

// Everything that stands in the way, in the order of the plan; empty: it can be simulated. Unfinished plans (passes
// not welded yet) are no problem here. Safe for any plan value, indices out of range included.
std::vector<PlanProblem> check_plan(const Plan& plan, const part::Part& part, const arc::Shop& shop);

// How the part lies and which clamps hold and passes are made before move `move` of a plan (its size: at the end).
struct JobState {
    int pose = 0;
    std::vector<bool> fixed;  // of each clamp
    std::vector<bool> welded; // of each pass
};
JobState state_before(const Plan& plan, const part::Part& part, std::size_t move);

// Why a move cannot follow on that state; empty if it can. What the window asks before it offers a move.
std::optional<text::Problem> obstacle(const Move& move, const JobState& state, const part::Part& part,
                                      std::size_t card_count);

} // namespace holdtrue::weld
