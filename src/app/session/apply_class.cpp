// The class: what is marked, and where its results go.
#include "app/session/applier.h"
#include "grading/read_exercise.h"
#include "record/class_summary.h"
#include "report/class_report.h"
#include "text/atomic_file.h"

namespace holdtrue::app {

namespace {

std::filesystem::path with_ending(std::filesystem::path file, const char* ending) {
    if (!file.string().ends_with(ending))
        file += ending;
    return file;
}

} // namespace

void Session::Applier::operator()(const act::ShowRecordPage& action) const {
    session.view_.record_page = action.page;
    (*this)(act::ShowBench{Bench::record});
}

void Session::Applier::operator()(const act::ChooseClass& action) const {
    session.class_choice_ = {action.exercise, action.folder};
}

void Session::Applier::operator()(const act::MarkClass&) const {
    session.guarded([&] {
        const ClassChoice& choice = session.class_choice_;
        auto exercise = std::make_shared<const grading::Exercise>(grading::read_exercise(choice.exercise));
        session.marked_class_ = MarkedClass{exercise, choice.folder, {}, false, {}};
        session.class_study_.start(std::move(exercise), choice.folder);
    });
}

void Session::Applier::operator()(const act::StopMarking&) const { session.class_study_.cancel(); }

void Session::Applier::operator()(const act::OpenClassPlan& action) const {
    if (session.asks_first(action, action.even_unsaved))
        return;
    session.guarded([&] {
        const grading::Exercise& exercise = *session.marked_class_->exercise;
        const auto& file = session.marked_class_->marks.entries[Index(action.entry)].file;
        session.begin_plan(session.take_up(file, exercise.file, exercise.name), true);
        session.history_.set_file({}); // what was handed in is not overwritten
        session.watch_files();
        session.view_.bench = Bench::order;
    });
}

void Session::Applier::operator()(const act::OpenAttempt& action) const {
    if (session.asks_first(action, action.even_unsaved))
        return;
    session.guarded([&] {
        const record::Attempt attempt = session.logbook_.attempts()[Index(action.attempt)];
        const std::string told_as = "the attempt of the record";
        session.begin_plan(session.take_up({attempt.plan, weld::parse_heading(attempt.plan, told_as)}, told_as,
                                           session.exercise_named(attempt.exercise, told_as)),
                           true);
        session.history_.set_file({});
        session.watch_files();
        session.view_.bench = Bench::order;
    });
}

void Session::Applier::operator()(const act::SaveClassTable& action) const {
    session.guarded([&] {
        const MarkedClass& marked = *session.marked_class_;
        const auto file = with_ending(action.file, ".csv");
        text::write_atomically(file, record::class_csv(*marked.exercise, marked.marks));
        session.news_ = Sentence{worded("Saved as {0}."), {file.filename().string()}};
    });
}

void Session::Applier::operator()(const act::SaveClassReport& action) const {
    session.guarded([&] {
        const MarkedClass& marked = *session.marked_class_;
        const auto file = with_ending(action.file, ".pdf");
        report::SheetOptions options;
        options.system = session.preferences_.units;
        report::save_class_report(file, *marked.exercise, marked.marks, options);
        session.news_ = Sentence{worded("Saved as {0}."), {file.filename().string()}};
    });
}

} // namespace holdtrue::app
