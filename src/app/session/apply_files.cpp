// Files: open, save, recover, quit.
#include "app/session/applier.h"
#include "record/bundle.h"

#include <utility>

namespace holdtrue::app {

namespace {

// Beside the plan or the exercise on the bench, or where a file was last opened; but nothing is saved among the
// exercises that ship with the program.
std::filesystem::path likely_folder(const Session& session, const std::vector<std::filesystem::path>& recent,
                                    bool to_save) {
    const std::filesystem::path shipped = session.places().lessons / "exercises";
    std::vector<std::filesystem::path> files;
    if (session.has_exercise())
        files = {session.plan().file, session.exercise().file};
    files.insert(files.end(), recent.begin(), recent.end());
    for (const std::filesystem::path& file : files) {
        std::error_code ignored;
        if (!file.empty() && !(to_save && std::filesystem::equivalent(file.parent_path(), shipped, ignored)))
            return file.parent_path();
    }
    const char* home = std::getenv("HOME");
    return !to_save ? shipped : std::filesystem::path(home ? home : ".");
}

} // namespace

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
    session.guarded([&] { session.hand_in(file, action.as_it_is); });
}

void Session::Applier::operator()(const act::NewPlan& action) const {
    if (!session.asks_first(action, action.even_unsaved))
        session.guarded([&] { session.start_anew(); });
}

void Session::Applier::operator()(const act::LookInto& action) const {
    session.looked_into_ = list_folder(
        !action.folder.empty() ? action.folder : likely_folder(session, session.preferences_.recent, action.to_save));
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
        if constexpr (requires { asked.as_it_is; })
            asked.as_it_is = true;
        return asked;
    }));
}

void Session::Applier::operator()(const act::StayOpen&) const {
    session.question_ = Question::none;
    session.asked_about_.reset();
}

} // namespace holdtrue::app
