// What several benches show in the same way.
#pragma once

#include "app/ui/ui.h"

#include <string>

namespace holdtrue::app {

// "Weld seam_top/3, reversed, card 'seams'", "Wait 2 min", "Turn to 'flat'"
std::string describe_move(const Ui& ui, const part::Part& part, const weld::Plan& plan, int move);

// "Before it: change the gas, set the dials, 2 min 25 s"; for a move that needs a change.
std::string setup_change_words(const Ui& ui, const weld::MoveOutcome& move);
std::string problem_words(const Ui& ui, const text::Problem& problem); // "a.plan.toml:3: what; fix"

// In place of a bench when no exercise is open: the shipped exercises to choose from.
void nothing_open(Ui& ui, const Session& session, Actions& out);
void exercise_list(Ui& ui, const Session& session, Actions& out);

std::string wire_words(const Ui& ui, const arc::Wire& wire); // "ER70S-6, 0.8 mm (135 MAG, solid wire)"

} // namespace holdtrue::app
