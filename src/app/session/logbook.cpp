#include "app/session/logbook.h"

#include <algorithm>

namespace holdtrue::app {

void Logbook::open() {
    if (record_)
        return;
    record_ = std::make_unique<record::Record>(file_);
    refresh();
}

void Logbook::open_if_kept() {
    std::error_code ignored;
    if (std::filesystem::exists(file_, ignored))
        open();
}

int Logbook::hints_that_count(const grading::Exercise& exercise, int in_plan, bool own_plan) const {
    return record::hints_that_count(exercise, in_plan, record_.get(), own_plan && current_ ? current_->id : 0);
}

record::TakenHint Logbook::take_hint(const grading::Exercise& exercise, int& in_plan, bool own_plan) {
    return record::take_hint(exercise, in_plan, record_.get(), own_plan && current_ ? current_->id : 0);
}

void Logbook::refresh() {
    trainees_ = record_->trainees();
    current_ = record_->current_trainee();
    attempts_.clear();
    progress_.clear();
    questions_.clear();
    if (!current_)
        return;
    attempts_ = record_->attempts(current_->id);
    std::ranges::reverse(attempts_);
    progress_ = record::exercise_progress(*record_, current_->id);
    questions_ = record::question_progress(*record_, current_->id);
}

void Logbook::add_trainee(const std::string& name) {
    open();
    record_->set_current_trainee(record_->add_trainee(name).id);
    refresh();
}

void Logbook::choose_trainee(std::int64_t id) {
    open();
    record_->set_current_trainee(id);
    refresh();
}

void Logbook::add_attempt(record::Attempt attempt) {
    open();
    if (!current_)
        return;
    attempt.trainee = current_->id;
    record_->add_attempt(attempt);
    refresh();
}

void Logbook::add_answer(record::GivenAnswer answer) {
    open();
    if (!current_)
        return;
    answer.trainee = current_->id;
    record_->add_answer(answer);
    refresh();
}

} // namespace holdtrue::app
