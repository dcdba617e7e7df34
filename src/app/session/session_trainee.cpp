// Who is at the bench, and what that changes: the variant of an exercise, hints, attempts.
#include "app/session/session.h"
#include "grading/variant.h"
#include "record/keep_attempt.h"
#include "weld/save_plan.h"

namespace holdtrue::app {

std::string Session::trainee_name() const { return logbook_.current() ? logbook_.current()->name : std::string(); }

// A plan that names nobody is the plan of whoever is at the bench.
bool Session::plan_is_own() const { return plan().trainee.empty() || plan().trainee == trainee_name(); }

void Session::count_hints() {
    hints_given_ = exercise_ ? logbook_.hints_that_count(*exercise_, plan().hints, plan_is_own()) : 0;
}

// Somebody else draws another variant. A plan that is under way is not taken from under the one who makes it.
void Session::trainee_changed() {
    seen_.give_name(trainee_name());
    if (!exercise_)
        return;
    if (plan().moves.empty() && plan().file.empty()) {
        guarded([&] { start_anew(); });
        return;
    }
    count_hints();
    if (!plan_is_own())
        news_ = Sentence{worded("The plan on the bench is still that of {0}."), {plan().trainee}};
}

// Every finished weld of one's own plan is an attempt, once somebody has said who is at the bench.
void Session::log_attempt() {
    if (!plan_is_own()) {
        if (logbook_.current())
            news_ =
                Sentence{worded("This plan is that of {0}, so the record of {1} does not keep its mark: choose {0} in "
                                "Record, or take Menu, New plan."),
                         {plan().trainee, trainee_name()}};
        return;
    }
    if (!logbook_.current())
        news_ =
            Sentence{worded("Nobody has said who is at the bench, so this mark is not kept: give a name in Record.")};
    // A plan that names nobody may answer another variant than the one that the name at the bench draws.
    if (logbook_.current() && exercise_->variant != grading::drawn_variant(*exercise_, trainee_name()) &&
        plan().trainee.empty() && !plan().variant) {
        news_ =
            Sentence{worded("Not kept in the record of {0}, to whom another variant was drawn: take Menu, New plan to "
                            "weld that one."),
                     {trainee_name()}};
        return;
    }
    guarded([&] {
        logbook_.open();
        const weld::Outcome& outcome = *marked_->outcome;
        logbook_.add_attempt(record::attempt_of(*exercise_, weld::plan_toml(outcome.plan, part()), marked_->mark,
                                                outcome.plan.hints, outcome.program_version, opened_ms_,
                                                record::now_ms()));
    });
}

} // namespace holdtrue::app
