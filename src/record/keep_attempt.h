// From a marked outcome to an attempt of the record, and back: a kept mark checked against its plan.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "record/record.h"

#include <stop_token>

namespace holdtrue::record {

// trainee is still to be set. `hints`: how many counted for the mark.
Attempt attempt_of(const grading::Exercise& exercise, const std::string& plan_text, const grading::Mark& mark,
                   int hints, const std::string& program, Milliseconds started_ms, Milliseconds ended_ms);

// The mark that the attempt's plan gets now, in the attempt's own variant of the exercise. Throws InputError when the
// plan does not fit the exercise any more.
grading::Mark mark_again(const grading::Exercise& exercise, const Attempt& attempt, std::stop_token stop = {});

} // namespace holdtrue::record
