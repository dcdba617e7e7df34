#include "record/take_hint.h"

#include "grading/grade.h"
#include "text/input_error.h"

#include <algorithm>

namespace holdtrue::record {

int hints_that_count(const grading::Exercise& exercise, int in_plan, const Record* record, std::int64_t trainee) {
    const int known = record && trainee != 0 ? record->hints_taken(trainee, exercise.name) : 0;
    return std::clamp(std::max(in_plan, known), 0, static_cast<int>(exercise.hints.size()));
}

TakenHint take_hint(const grading::Exercise& exercise, int& hints_in_plan, Record* record, std::int64_t trainee) {
    const int taken = hints_that_count(exercise, hints_in_plan, record, trainee);
    const int all = static_cast<int>(exercise.hints.size());
    if (taken >= all)
        throw text::InputError(exercise.file.string(), 0,
                               all == 0 ? text::worded("the exercise has no hints")
                                        : text::worded("all hints of the exercise were given"),
                               text::worded("the remarks on a weld say what to try, and cost nothing: weld the plan"));
    if (record && trainee != 0)
        record->add_hints(trainee, exercise.name, taken + 1);
    hints_in_plan = taken + 1;
    const grading::Hint& hint = exercise.hints[static_cast<std::size_t>(taken)];
    return {taken + 1, all, hint.text, hint.cost, grading::cost_of_hints(exercise, taken + 1)};
}

} // namespace holdtrue::record
