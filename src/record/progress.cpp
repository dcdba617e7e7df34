#include "record/progress.h"

#include "lesson/schedule.h"

#include <algorithm>
#include <map>

namespace holdtrue::record {

std::vector<ExerciseProgress> exercise_progress(const Record& record, std::int64_t trainee) {
    std::vector<ExerciseProgress> all;
    for (const Attempt& attempt : record.attempts(trainee)) {
        auto at = std::ranges::find(all, attempt.exercise, &ExerciseProgress::exercise);
        if (at == all.end()) {
            all.emplace_back().exercise = attempt.exercise;
            at = all.end() - 1;
        }
        at->title = attempt.title;
        at->marks.push_back(attempt.mark);
        if (attempt.passed == at->passed)
            at->best = std::max(at->best, attempt.mark);
        else if (attempt.passed) // the first that did
            at->best = attempt.mark;
        at->passed |= attempt.passed;
        at->spent_ms += attempt.ended_ms - attempt.started_ms;
        at->last_ms = attempt.ended_ms;
    }
    return all;
}

std::vector<QuestionProgress> question_progress(const Record& record, std::int64_t trainee) {
    std::map<std::string, std::vector<lesson::Answer>> answers;
    std::map<std::string, int> right;
    for (const GivenAnswer& answer : record.answers(trainee)) {
        answers[answer.question].push_back({answer.at_ms / 1000, answer.quality});
        right[answer.question] += answer.right;
    }
    std::vector<QuestionProgress> all;
    for (const auto& [question, given] : answers)
        all.push_back(
            {question, static_cast<int>(given.size()), right[question], lesson::schedule(given).due_s * 1000});
    return all;
}

} // namespace holdtrue::record
