// Who is at the bench decides the variant; hints cost the same in the window and on the command line; a plan is not
// lost to another file.
#include "exercises.h"
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "grading/variant.h"
#include "record/hand_in.h"
#include "record/hand_out.h"
#include "record/take_hint.h"
#include "text/atomic_file.h"
#include "weld/save_plan.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::finish;
using app::test::shipped;

namespace fs = std::filesystem;

namespace {

// What `holdtrue weld EXERCISE PLAN --trainee NAME` works out.
grading::Mark mark_on_the_command_line(const fs::path& exercise_file, const fs::path& plan_file,
                                       const record::Record& record, const std::string& trainee) {
    const weld::PlanHeading heading = weld::read_heading(plan_file);
    const grading::Exercise exercise = grading::read_exercise_for(exercise_file, heading);
    weld::Plan plan = grading::read_plan_for(exercise, plan_file);
    plan.hints = record::hints_that_count(exercise, plan.hints, &record, record.find_trainee(trainee).value().id);
    return grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
}

} // namespace

TEST_CASE("a trainee gets the variant that the name draws, as on the command line, and another gets another") {
    const Desk desk("variant");
    Session session(desk.places);
    const fs::path file = shipped("tee_coupon.exercise.toml");
    session.apply(act::Open{file});
    CHECK(session.exercise().variant == 0); // nobody has said who it is
    session.apply(act::AddTrainee{"Ann"});
    const grading::Exercise written = session.exercise();
    const int anns = grading::drawn_variant(written, "Ann");
    REQUIRE(anns > 0);
    CHECK(session.exercise().variant == anns); // the bench was empty
    CHECK(session.plan().trainee == "Ann");
    std::string other = "Bob";
    while (grading::drawn_variant(written, other) == anns)
        other += "o";
    session.apply(act::WeldNext{0});
    session.apply(act::AddTrainee{other});
    CHECK(session.exercise().variant == anns); // the plan under way is Ann's
    CHECK(session.news().has_value());
    session.apply(act::NewPlan{true});
    CHECK(session.exercise().variant == grading::drawn_variant(written, other));
    CHECK(session.plan().trainee == other);
    CHECK(session.plan().moves.empty());
    // In a session of the next day the name is known before anything is shown of the record.
    Session later(desk.places);
    later.apply(act::Open{file});
    CHECK(later.plan().trainee == other);
}

TEST_CASE("hints are kept in plan and record, undo gives none back, and the mark is the command line's") {
    const Desk desk("hints");
    const fs::path exercise_file = shipped("tee_coupon.exercise.toml"),
                   mine = desk.places.configuration / "mine.plan.toml";
    Session session(desk.places);
    session.apply(act::AddTrainee{"Ann"});
    session.apply(act::Open{exercise_file});
    const int all = static_cast<int>(session.exercise().hints.size());
    REQUIRE(all >= 2);
    for (const part::Pass& pass : session.part().passes)
        session.apply(act::WeldNext{part::find_pass(session.part(), pass.name)});
    CHECK(session.hints_given() == 0);
    session.apply(act::TakeHint{});
    session.apply(act::TakeHint{});
    CHECK(session.hints_given() == 2);
    session.apply(act::Undo{});
    session.apply(act::Redo{});
    CHECK(session.hints_given() == 2);
    CHECK(session.plan().hints == 2);
    session.apply(act::SaveAs{mine});
    session.apply(act::StartWeld{});
    finish(session);
    REQUIRE(session.marked());
    CHECK(session.marked()->mark.hint_points == grading::cost_of_hints(session.exercise(), 2));
    const record::Record record(desk.places.record);
    const grading::Mark same = mark_on_the_command_line(exercise_file, mine, record, "Ann");
    CHECK(session.marked()->mark.total == same.total);
    CHECK(session.marked()->mark.hint_points == same.hint_points);
    const auto attempts = record.attempts();
    REQUIRE(attempts.size() == 1);
    CHECK(attempts[0].hints == 2);
    CHECK(attempts[0].variant == session.exercise().variant);
    CHECK(attempts[0].mark == same.total);
    {
        // The attempt's plan can be taken up again, and gets the same mark but for the hint taken since.
        const weld::Plan welded = session.plan();
        session.apply(act::ClearMoves{});
        session.apply(act::OpenAttempt{0, true});
        CHECK(session.problems().empty());
        CHECK(session.plan().moves.size() == welded.moves.size());
        CHECK(session.plan().file.empty());
        CHECK(session.kept() != nullptr);
        CHECK(session.why_not(act::OpenAttempt{1}).has_value());
        session.apply(act::Open{mine, true});
    }

    // A hint taken afterwards belongs to the next weld: what is on the bench is another plan now.
    session.apply(act::TakeHint{});
    CHECK_FALSE(session.marked_is_current());
    // Taken out of the file, they still count, for the record knows.
    session.apply(act::NewPlan{true});
    CHECK(session.plan().hints == 0);
    CHECK(session.hints_given() == 3);
    for (int k = 3; k < all; ++k)
        session.apply(act::TakeHint{});
    CHECK(session.why_not(act::TakeHint{}).has_value());
    session.apply(act::TakeHint{});
    CHECK(session.hints_given() == all);
}

TEST_CASE("somebody else's plan is marked by what it says, and not kept in one's own record") {
    const Desk desk("others_plan");
    const fs::path mine = desk.places.configuration / "theirs.plan.toml";
    {
        Session session(desk.places);
        session.apply(act::AddTrainee{"Ann"});
        session.apply(act::Open{shipped("tee_coupon.exercise.toml")});
        session.apply(act::WeldNext{0});
        session.apply(act::TakeHint{});
        session.apply(act::SaveAs{mine});
    }
    Session session(desk.places);
    session.apply(act::AddTrainee{"Bob"});
    session.apply(act::Open{mine});
    CHECK(session.plan().trainee == "Ann");
    CHECK(session.exercise().variant == grading::drawn_variant(session.exercise(), "Ann"));
    CHECK(session.hints_given() == 1);
    session.apply(act::StartWeld{});
    finish(session);
    REQUIRE(session.marked());
    CHECK(session.news().has_value());
    CHECK(session.logbook().attempts().empty());
}

TEST_CASE("what would throw away an unsaved plan asks first, and goes on when it was answered") {
    const Desk desk("asks");
    Session session(desk.places);
    const fs::path tee = shipped("tee_coupon.exercise.toml"), strip = shipped("lap_strip.exercise.toml"),
                   mine = desk.places.configuration / "mine.plan.toml";
    session.apply(act::Open{tee});
    session.apply(act::WeldNext{0});
    for (const Action& action : {Action(act::Open{strip}), Action(act::NewPlan{}), Action(act::Quit{})}) {
        session.apply(action);
        CHECK(session.question() == Question::save_first);
        session.apply(act::StayOpen{});
        CHECK(session.question() == Question::none);
        CHECK(session.exercise().file == tee);
        CHECK(session.plan().moves.size() == 1);
        CHECK_FALSE(session.should_close());
    }
    CHECK(session.why_not(act::GoOn{}).has_value()); // nothing is asked any more
    session.apply(act::Open{strip});
    session.apply(act::SaveAs{desk.places.configuration / "no folder" / "mine"}); // fails: it must not go on
    CHECK(session.exercise().file == tee);
    session.apply(act::SaveAs{mine});
    CHECK(session.exercise().file == strip);
    CHECK(fs::exists(mine));
    session.apply(act::WeldNext{0});
    session.apply(act::Quit{});
    session.apply(act::GoOn{});
    CHECK(session.should_close());
}

TEST_CASE("a hand-out is opened where it lies, worked, and handed in, all from the window") {
    const Desk desk("handout");
    const fs::path folder = desk.places.configuration / "school";
    fs::create_directories(folder);
    const grading::Exercise exercise = grading::read_exercise(shipped("tee_coupon.exercise.toml"));
    text::write_atomically(folder / "tee.handout.zip", record::bundle_bytes(record::hand_out(exercise, "test")));
    Session session(desk.places);
    session.apply(act::Open{folder / "tee.handout.zip"});
    REQUIRE(session.problems().empty());
    CHECK(session.exercise().file == folder / "tee" / "tee_coupon.exercise.toml");
    session.apply(act::Open{folder / "tee.handout.zip"}); // again: what is there is kept
    CHECK(session.problems().empty());

    session.apply(act::HandIn{folder / "ann"});
    CHECK(!session.problems().empty()); // nobody has said who it is
    CHECK(!fs::exists(folder / "ann.handin.zip"));
    session.apply(act::DismissProblems{});
    session.apply(act::AddTrainee{"Ann"});
    session.apply(act::WeldNext{0});
    session.apply(act::HandIn{folder / "ann"});
    CHECK(session.question() == Question::hand_in_unfinished); // passes are missing
    const auto lacks = session.unfinished();
    REQUIRE(!lacks.empty());
    const std::size_t all = session.part().passes.size();
    CHECK(lacks.front().parts == std::vector<Sentence>{std::to_string(all - 1), std::to_string(all)});
    session.apply(act::StayOpen{});
    CHECK(session.question() == Question::none);
    CHECK(!fs::exists(folder / "ann.handin.zip"));
    session.apply(act::HandIn{folder / "ann"});
    session.apply(act::GoOn{});
    CHECK(session.question() == Question::none);
    REQUIRE(session.problems().empty());
    REQUIRE(session.news());
    CHECK(session.news()->english().find((folder / "ann.handin.zip").string()) != std::string::npos); // where it lies
    const record::Submission submission = record::read_submission(folder / "ann.handin.zip", "tee_coupon");
    CHECK(submission.heading.trainee == "Ann");
    CHECK(grading::variant_of(exercise, submission.heading) == session.exercise().variant);
    CHECK(submission.plan_text == weld::plan_toml(session.plan(), session.part()));
}

TEST_CASE("a finished plan is handed in without a question") {
    const Desk desk("handin_finished");
    Session session(desk.places);
    session.apply(act::AddTrainee{"Ann"});
    session.apply(act::Open{shipped("tee_coupon.model.plan.toml")});
    REQUIRE(session.problems().empty());
    CHECK(session.unfinished().empty());
    session.apply(act::HandIn{desk.places.configuration / "ann"});
    CHECK(session.question() == Question::none);
    CHECK(fs::exists(desk.places.configuration / "ann.handin.zip"));
}
