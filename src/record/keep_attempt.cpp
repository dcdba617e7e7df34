#include "record/keep_attempt.h"

#include "grading/grade.h"
#include "grading/variant.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <algorithm>

namespace holdtrue::record {

Attempt attempt_of(const grading::Exercise& exercise, const std::string& plan_text, const grading::Mark& mark,
                   int hints, const std::string& program, Milliseconds started_ms, Milliseconds ended_ms) {
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
    attempt.variant = exercise.variant;
    attempt.hints = hints;
    return attempt;
}

grading::Mark mark_again(const grading::Exercise& exercise, const Attempt& attempt, std::stop_token stop) {
    const std::string name = "attempt " + attempt.uuid;
    if (attempt.variant != exercise.variant) {
        const auto variant = static_cast<int>(std::clamp<std::int64_t>(attempt.variant, 0, weld::highest_variant));
        weld::PlanHeading heading;
        heading.file = name;
        return mark_again(grading::read_exercise_for(exercise.file, heading, variant), attempt, std::move(stop));
    }
    weld::Plan plan = weld::parse_plan(attempt.plan, name, *exercise.part, *exercise.shop);
    plan.hints = std::max(plan.hints, attempt.hints);
    return grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan, {}, nullptr, std::move(stop)));
}

} // namespace holdtrue::record
