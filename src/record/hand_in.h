// The hand-in: a trainee's plan as one file, with the name, the variant and the number of hints that count.
#pragma once

#include "grading/exercise.h"
#include "record/bundle.h"
#include "weld/read_plan.h"

namespace holdtrue::record {

inline constexpr std::string_view plan_in_hand_in = "plan.plan.toml";

// `exercise` in the plan's variant; `plan_text` must read as a plan for it, and `hints` is what
// record/take_hint.h counts.
Bundle hand_in(const grading::Exercise& exercise, const std::string& plan_text, const weld::PlanHeading& heading,
               int hints, const std::string& program);

// What was handed in: a plan's text and head, be it a .plan.toml or a .handin.zip. Throws text::InputError, also when
// a hand-in is for another exercise.
struct Submission {
    std::string plan_text;
    weld::PlanHeading heading; // with the name and the hints of the hand-in, if it tells more
};
Submission read_submission(const std::filesystem::path& file, const std::string& exercise);
// The plan in it, for the exercise in the variant that it answers (grading::read_exercise_for()). Throws
// text::InputError; in one line if it does not fit and names another exercise.
weld::Plan plan_of(const Submission& submission, const grading::Exercise& exercise, const std::filesystem::path& file);

} // namespace holdtrue::record
