#include "record/keep_attempt.h"

#include "grading/grade.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

namespace holdtrue::record {

Attempt attempt_of(const grading::Exercise& exercise, const std::string& plan_text, const grading::Mark& mark,
                   const std::string& program, Milliseconds started_ms, Milliseconds ended_ms) {
    Attempt attempt;
    attempt.exercise = exercise.name;
    attempt.title = exercise.title;
    attempt.plan = plan_text;
    attempt.started_ms = started_ms;
    attempt.ended_ms = ended_ms;
    attempt.mark = mark.total;
    attempt.passed = mark.passed;
    attempt.points = mark.reached;
    attempt.program = program;
    return attempt;
}

grading::Mark mark_again(const grading::Exercise& exercise, const Attempt& attempt, std::stop_token stop) {
    const weld::Plan plan = weld::parse_plan(attempt.plan, "attempt " + attempt.uuid, *exercise.part, *exercise.shop);
    return grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan, {}, nullptr, std::move(stop)));
}

} // namespace holdtrue::record
