// The written form of actions, one a line, for scripts: a verb and its arguments, names as the files have them,
// quantities in SI or with the unit in the word (60, 60s, 45C).
//     open lessons/exercises/lift_arm.exercise.toml
//     weld seam_top/3
//     lay_out run backstep seam_top seam_bottom
//     wait_until 60C
#pragma once

#include "app/session/session.h"

#include <string>
#include <vector>

namespace holdtrue::app {

// "weld 'seam a/1'" -> {"weld", "seam a/1"}; text after # is a comment.
std::vector<std::string> split_words(const std::string& line);

// Throws text::InputError with this file and line where the words are no action, or name what is not there.
Action parse_action(const std::vector<std::string>& words, const Session& session, const std::string& file, int line);

// All verbs, for messages and for the manual.
std::vector<std::string> action_verbs();

} // namespace holdtrue::app
