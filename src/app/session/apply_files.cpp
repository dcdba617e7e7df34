// Files: open, save, recover, quit.
#include "app/session/applier.h"
#include "grading/variant.h"
#include "weld/read_plan.h"

namespace holdtrue::app {

void Session::Applier::operator()(const act::Open& action) const {
    session.guarded([&] { session.open(action.file); });
    session.watch_files();
}

void Session::Applier::operator()(const act::Save&) const {
    if (session.plan().file.empty())
        session.news_ = Words{worded("Give the plan a file name first."), {}};
    else
        session.guarded([&] { session.save(session.plan().file); });
}

void Session::Applier::operator()(const act::SaveAs& action) const {
    std::filesystem::path file = action.file;
    if (!file.string().ends_with(".plan.toml"))
        file += ".plan.toml";
    session.guarded([&] { session.save(file); });
}

void Session::Applier::operator()(const act::NewPlan&) const {
    session.begin_plan(fresh_plan(session.exercise()), true);
}

void Session::Applier::operator()(const act::Recover&) const {
    session.guarded([&] {
        const auto file = session.autosave_file();
        const auto answered = weld::exercise_of(file);
        session.open_exercise(answered, grading::read_exercise_for(answered, weld::read_heading(file)).variant);
        session.begin_plan(weld::read_plan(file, session.part(), session.shop()), false);
        session.history_.set_file({});
        session.watch_files();
    });
    session.question_ = Question::none;
}

void Session::Applier::operator()(const act::ForgetRecovery&) const {
    std::error_code ignored;
    std::filesystem::remove(session.autosave_file(), ignored);
    session.question_ = Question::none;
}

void Session::Applier::operator()(const act::DismissProblems&) const {
    session.not_opened_.clear();
    session.problems_.clear();
    session.news_.reset();
}

void Session::Applier::operator()(const act::Quit& action) const {
    if (session.unsaved() && !session.plan().moves.empty() && !action.even_unsaved) {
        session.question_ = Question::save_before_quitting;
        return;
    }
    std::error_code ignored;
    std::filesystem::remove(session.autosave_file(), ignored);
    session.should_close_ = true;
}

void Session::Applier::operator()(const act::StayOpen&) const { session.question_ = Question::none; }

} // namespace holdtrue::app
