// Hints are given one after the other, and each costs points. How many were taken is written into the plan, where a
// mark reads it, and into the trainee's record, where taking it out of the plan does not help. What cannot be
// prevented: who has the exercise file can read its hints there, and a plan that never met the record (no trainee, or
// another machine) knows only of the hints that its own text tells.
#pragma once

#include "grading/exercise.h"
#include "record/record.h"

#include <string>

namespace holdtrue::record {

struct TakenHint {
    int number = 0, of = 0; // 1 to the number of hints
    std::string text;
    double cost = 0, cost_so_far = 0; // points
};

// How many hints count for a plan that says `in_plan`: those, or the record's if it knows of more. `record` null or
// `trainee` 0: the plan's alone. Never more than the exercise has.
int hints_that_count(const grading::Exercise& exercise, int in_plan, const Record* record, std::int64_t trainee);

// Gives the next hint and notes it in `hints_in_plan` and in the record. The record is written first: a failure there
// throws InputError and gives no hint. Throws InputError as well when there is none left.
TakenHint take_hint(const grading::Exercise& exercise, int& hints_in_plan, Record* record, std::int64_t trainee);

} // namespace holdtrue::record
