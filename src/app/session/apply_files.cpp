// Files: open, save, recover, quit.
#include "app/session/applier.h"
#include "record/bundle.h"

#include <utility>

namespace holdtrue::app {

void Session::Applier::operator()(const act::Open& action) const {
    if (session.asks_first(action, action.even_unsaved))
        return;
    session.guarded([&] { session.open(action.file); });
    session.watch_files();
}

void Session::Applier::operator()(const act::Save&) const {
    if (session.plan().file.empty())
        session.news_ = Sentence(worded("Give the plan a file name first."));
    else
        session.guarded([&] { session.save(session.plan().file); });
    session.go_on_if_saved();
}

void Session::Applier::operator()(const act::SaveAs& action) const {
    std::filesystem::path file = action.file;
    if (!file.string().ends_with(".plan.toml"))
        file += ".plan.toml";
    session.guarded([&] { session.save(file); });
    session.go_on_if_saved();
}

void Session::Applier::operator()(const act::HandIn& action) const {
    std::filesystem::path file = action.file;
    if (!file.string().ends_with(record::hand_in_ending))
        file += record::hand_in_ending;
    session.guarded([&] { session.hand_in(file); });
}

void Session::Applier::operator()(const act::NewPlan& action) const {
    if (!session.asks_first(action, action.even_unsaved))
        session.guarded([&] { session.start_anew(); });
}

void Session::Applier::operator()(const act::LookInto& action) const {
    std::filesystem::path folder = action.folder;
    if (folder.empty() && session.has_exercise())
        folder = (session.plan().file.empty() ? session.exercise().file : session.plan().file).parent_path();
    else if (folder.empty() && !session.preferences_.recent.empty())
        folder = session.preferences_.recent.front().parent_path();
    else if (folder.empty())
        folder = session.places_.lessons / "exercises";
    session.looked_into_ = list_folder(folder);
}

void Session::Applier::operator()(const act::Recover&) const {
    session.guarded([&] {
        const auto file = session.autosave_file();
        session.begin_plan(session.take_up(file, weld::exercise_of(file)), false);
        session.history_.set_file({});
        session.watch_files();
        session.view_.bench = Bench::order; // where the work was
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
    if (session.asks_first(action, action.even_unsaved))
        return;
    std::error_code ignored;
    std::filesystem::remove(session.autosave_file(), ignored);
    session.should_close_ = true;
}

void Session::Applier::operator()(const act::GoOn&) const {
    session.question_ = Question::none;
    const Action asked_about = *std::exchange(session.asked_about_, {});
    session.apply(asked_about.visit([](auto asked) -> Action {
        if constexpr (requires { asked.even_unsaved; })
            asked.even_unsaved = true;
        return asked;
    }));
}

void Session::Applier::operator()(const act::StayOpen&) const {
    session.question_ = Question::none;
    session.asked_about_.reset();
}

} // namespace holdtrue::app
