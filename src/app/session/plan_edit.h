// Changes to a plan's moves. Pure functions of values; what may follow on what is weld/check_plan.h's to say.
#pragma once

#include "grading/exercise.h"
#include "part/part.h"
#include "weld/plan.h"

#include <vector>

namespace holdtrue::app {

// The move that welds a pass, or -1.
int move_of_pass(const weld::Plan& plan, int pass);

// Passes of the joints that belong to the task, and how many of them a plan lacks.
struct TaskPasses {
    int all = 0, left = 0;
};
TaskPasses task_passes(const grading::Exercise& exercise, const weld::Plan& plan);

// Ways to lay the passes of joints, in one go.
enum class Pattern { along, backstep, skip, middle_out, alternate };

// The passes of these joints that the standing lacks, in the pattern's order and direction; tacks and plugs too, when
// the joint has nothing else left. Alternate takes the joints by turns; the others finish one before the next.
std::vector<weld::WeldPass> laid_out(const part::Part& part, const weld::Plan& plan, const std::vector<int>& joints,
                                     part::PassKind kind, Pattern pattern);

// Appends welds, with the turns they need between them where the fixture allows one.
void append_welds(const part::Part& part, weld::Plan& plan, const std::vector<weld::WeldPass>& welds);

// The moves, but the first, that weld a run or plug with no wait right before them.
std::vector<std::size_t> runs_without_wait(const part::Part& part, const weld::Plan& plan);
void wait_before_runs(const part::Part& part, weld::Plan& plan, const weld::Wait& wait); // before each of these

// Moves `from` to where `to` is now.
void shift_move(weld::Plan& plan, std::size_t from, std::size_t to);

} // namespace holdtrue::app
