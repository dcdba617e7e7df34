// How a trainee gets on: what a progress chart and the list of what to do next are drawn from.
#pragma once

#include "record/record.h"

#include <string>
#include <vector>

namespace holdtrue::record {

struct ExerciseProgress {
    std::string exercise, title;
    std::vector<double> marks; // in the order of the attempts
    double best = 0;           // of those passed; of all while none is
    bool passed = false;       // at least once
    Milliseconds spent_ms = 0, last_ms = 0;
};
// In the order of the first attempt.
std::vector<ExerciseProgress> exercise_progress(const Record& record, std::int64_t trainee);

struct QuestionProgress {
    std::string question; // "lesson/id"
    int asked = 0, right = 0;
    Milliseconds due_ms = 0; // by SM-2, from all answers
};
// By name.
std::vector<QuestionProgress> question_progress(const Record& record, std::int64_t trainee);

} // namespace holdtrue::record
