// The hand-out: an exercise with all that it needs, as one file. On any machine with the program it gives the same
// task and the same marks, because part, shop and rules travel with it:
//   READ_ME.txt, NAME.exercise.toml, NAME.start.plan.toml, its .part.toml and .shop.toml, rules/, and lessons/NAME/ for
//   the lessons that the exercise names
#pragma once

#include "grading/exercise.h"
#include "record/bundle.h"

namespace holdtrue::record {

// The exercise as written (variant 0). Throws text::InputError when a file cannot be read, or a lesson that the
// exercise names is not there.
Bundle hand_out(const grading::Exercise& exercise, const std::string& program);

} // namespace holdtrue::record
