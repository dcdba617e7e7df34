// A class marked in the session: the same marks as one plan at a time, beside a bench that goes on working.
#include "app/session/action_text.h"
#include "exercises.h"
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "record/class_summary.h"
#include "record/hand_in.h"
#include "text/atomic_file.h"

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::finish;
using app::test::shipped;

namespace fs = std::filesystem;

namespace {

std::string read(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

void finish_class(Session& session) {
    using namespace std::chrono_literals;
    for (int k = 0; k < 6000 && session.class_busy(); ++k)
        std::this_thread::sleep_for(10ms);
    REQUIRE_FALSE(session.class_busy());
    session.take_finished();
}

// A class of four files: a good plan, a copy of it with another name, one that cannot be read, and a hand-in.
struct Classroom {
    explicit Classroom(const Desk& desk) : folder(desk.places.configuration / "handed in") {
        fs::create_directories(folder);
        const std::string model = read(shipped("tee_coupon.model.plan.toml"));
        text::write_atomically(folder / "ann.plan.toml", "trainee = \"Ann\"\nvariant = 0\n" + model);
        text::write_atomically(folder / "bob.plan.toml", "trainee = \"Bob\"\nvariant = 0\n" + model);
        text::write_atomically(folder / "cyd.plan.toml", "title = [\n");
        const grading::Exercise exercise = grading::read_exercise(shipped("tee_coupon.exercise.toml"));
        const std::string plan = "variant = 0\nhints = 1\n" + read(shipped("tee_coupon.one_side.plan.toml"));
        weld::PlanHeading heading = weld::parse_heading(plan, "plan");
        heading.trainee = "Dee";
        text::write_atomically(folder / "dee.handin.zip",
                               record::bundle_bytes(record::hand_in(exercise, plan, heading, 2, "test")));
    }
    fs::path folder;
};

} // namespace

TEST_CASE("a class is marked beside the bench, each mark is the one the plan gets alone") {
    const Desk desk("class");
    const Classroom room(desk);
    Session session(desk.places);
    CHECK(session.why_not(act::MarkClass{}).has_value());
    session.apply(act::ChooseClass{shipped("tee_coupon.exercise.toml"), {}});
    CHECK(session.why_not(act::MarkClass{}).has_value());
    session.apply(act::Open{room.folder}); // as a folder dragged onto the window
    CHECK(session.class_choice().folder == room.folder);
    CHECK(session.view().record_page == RecordPage::school_class);
    session.apply(act::MarkClass{});
    CHECK(session.class_busy());
    CHECK(session.why_not(act::MarkClass{}).has_value());
    CHECK(session.why_not(act::SaveClassTable{}).has_value());
    // The bench goes on.
    session.apply(act::Open{shipped("lap_strip.exercise.toml")});
    CHECK(session.has_exercise());
    finish_class(session);

    const MarkedClass& marked = *session.marked_class();
    REQUIRE(marked.finished);
    REQUIRE(marked.marks.entries.size() == 4);
    const auto& [ann, bob, cyd, dee] =
        std::tie(marked.marks.entries[0], marked.marks.entries[1], marked.marks.entries[2], marked.marks.entries[3]);
    const grading::Exercise& exercise = *marked.exercise;
    const weld::Plan plan = weld::read_plan(shipped("tee_coupon.model.plan.toml"), *exercise.part, *exercise.shop);
    const grading::Mark alone = grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
    REQUIRE(ann.mark);
    CHECK(ann.mark->total == alone.total);
    CHECK(bob.mark->total == alone.total);
    CHECK(bob.same_as == 0);
    CHECK(record::remark_on(marked.marks, 1).english().find("ann.plan.toml") != std::string::npos);
    CHECK_FALSE(cyd.mark);
    CHECK(cyd.problem.english().find("cyd.plan.toml") != std::string::npos);
    REQUIRE(dee.mark);
    CHECK(dee.trainee == "Dee");
    CHECK(dee.hints == 2);
    CHECK(dee.mark->hint_points == grading::cost_of_hints(exercise, 2));

    const record::ClassSummary summary = record::summary_of(marked.marks);
    CHECK(summary.plans == 4);
    CHECK(summary.marked == 3);
    CHECK(summary.not_marked == 1);
    CHECK(summary.mean == doctest::Approx((2 * alone.total + dee.mark->total) / 3));
    CHECK(summary.lowest <= summary.middle);
    CHECK(summary.middle <= summary.highest);
    int counted = 0;
    int passed = 0;
    for (const record::ClassSummary::Ten& ten : summary.tens) {
        counted += ten.plans();
        passed += ten.passed;
    }
    CHECK(counted == 3);
    CHECK(passed == summary.passed);
    CHECK(passed == 2); // the model plan twice; the one welded on one side only does not pass
    // On a tee there is little to choose: bob's copy is told, and that near ones are not looked for.
    CHECK_FALSE(marked.marks.orders_tell);
    const std::string of_copies = record::on_copies(marked.marks).english();
    CHECK(of_copies.find("nearly: 1.") != std::string::npos);
    CHECK(of_copies.find("Only identical plans") != std::string::npos);

    // A row opens the plan, welded it gets the same mark, and the file is not written over.
    session.apply(act::OpenClassPlan{3});
    REQUIRE(session.problems().empty());
    CHECK(session.exercise().name == "tee_coupon");
    CHECK(session.plan().trainee == "Dee");
    CHECK(session.hints_given() == 2);
    CHECK(session.plan().file.empty());
    session.apply(act::StartWeld{});
    finish(session);
    CHECK(session.marked()->mark.total == dee.mark->total);

    session.apply(act::SaveClassTable{desk.places.configuration / "marks"});
    session.apply(act::SaveClassReport{desk.places.configuration / "class.pdf"});
    REQUIRE(session.problems().empty());
    CHECK(read(desk.places.configuration / "marks.csv") == record::class_csv(exercise, marked.marks));
    CHECK(read(desk.places.configuration / "class.pdf").starts_with("%PDF"));
    session.apply(act::SaveClassTable{desk.places.configuration / "no folder" / "marks"});
    CHECK_FALSE(session.problems().empty());
}

TEST_CASE("results of a class come one by one, and marking can be stopped") {
    const Desk desk("class_stopped");
    const fs::path folder = desk.places.configuration / "class";
    fs::create_directories(folder);
    const std::string model = read(shipped("tee_coupon.model.plan.toml"));
    constexpr int count = 40;
    for (int k = 0; k < count; ++k)
        text::write_atomically(folder / (std::to_string(100 + k) + ".plan.toml"),
                               model + "\n[[move]]\nwait_s = " + std::to_string(60 + k) + "\n");
    Session session(desk.places);
    session.apply(act::ChooseClass{shipped("tee_coupon.exercise.toml"), folder});
    session.apply(act::MarkClass{});
    const auto marked = [&] {
        session.take_finished();
        return record::summary_of(session.marked_class()->marks).marked;
    };
    using namespace std::chrono_literals;
    for (int k = 0; k < 6000 && marked() == 0; ++k)
        std::this_thread::sleep_for(2ms);
    REQUIRE(marked() > 0);
    CHECK(session.marked_class()->marks.entries.size() == count); // those to come are listed too
    session.apply(act::StopMarking{});
    finish_class(session);
    CHECK_FALSE(session.marked_class()->finished);
    CHECK(marked() < count);
    CHECK(session.why_not(act::SaveClassTable{}).has_value());
    // And again from the start.
    session.apply(act::ChooseClass{shipped("tee_coupon.exercise.toml"), desk.places.configuration / "empty"});
    fs::create_directories(desk.places.configuration / "empty");
    session.apply(act::MarkClass{});
    finish_class(session);
    CHECK_FALSE(session.problems().empty()); // it holds no plans
}

TEST_CASE("a neighbour's plan with a wait changed is told, in the table too") {
    const fs::path folder = fs::temp_directory_path() / "holdtrue_near_copies";
    fs::remove_all(folder);
    fs::create_directories(folder);
    std::string model = read(shipped("lift_arm.model.plan.toml"));
    const std::string wait = "\n[[move]]\nwait_s = 60\n";
    text::write_atomically(folder / "ann.plan.toml", "trainee = \"Ann\"\nvariant = 0\n" + model + wait);
    text::write_atomically(folder / "bob.plan.toml",
                           "trainee = \"Bob\"\nvariant = 0\n" + model + "\n[[move]]\nwait_s = 61\n");
    const grading::Exercise exercise = grading::read_exercise(shipped("lift_arm.exercise.toml"));
    record::ClassOptions options;
    options.simulation.distortion = false; // what is compared are plans
    options.simulation.until_cold = false;
    options.simulation.element_scale = 4;
    const record::ClassMarks marks = record::mark_class(exercise, folder, options);
    REQUIRE(marks.entries.size() == 2);
    CHECK(marks.orders_tell);
    CHECK(marks.entries[0].near_copy_of == -1);
    CHECK(marks.entries[1].near_copy_of == 0);
    CHECK(marks.entries[1].same_as == -1);
    const std::string told = record::remark_on(marks, 1).english();
    CHECK_MESSAGE(told.find("same order as ann.plan.toml; only this differs: wait ") != std::string::npos, told);
    CHECK_MESSAGE(told.find("1 min 00 s, 1 min 01 s") != std::string::npos, told);
    const std::string table = record::class_csv(exercise, marks);
    CHECK(table.find(",\"ann.plan.toml\",\"same order as ann.plan.toml; only this") != std::string::npos);
    CHECK(record::on_copies(marks).english().find("Only identical") == std::string::npos);
    fs::remove_all(folder);
}

TEST_CASE("a folder dropped beside an open exercise is a class of that exercise, until another is chosen") {
    const Desk desk("class_dropped");
    const Classroom room(desk);
    Session session(desk.places);
    session.apply(act::Open{shipped("lap_strip.exercise.toml")});
    session.apply(act::Open{room.folder});
    CHECK(session.class_choice().exercise == shipped("lap_strip.exercise.toml"));
    session.apply(act::ChooseClass{shipped("tee_coupon.exercise.toml"), room.folder});
    session.apply(act::Open{room.folder});
    CHECK(session.class_choice().exercise == shipped("tee_coupon.exercise.toml"));
}

TEST_CASE("a class is marked by a script's lines") {
    const Desk desk("class_script");
    const Classroom room(desk);
    Session session(desk.places);
    for (const std::string& line :
         {"choose_class '" + shipped("tee_coupon.exercise.toml").string() + "' '" + room.folder.string() + "'",
          std::string("record_page class"), std::string("mark_class")})
        session.apply(parse_action(split_words(line), session, "script", 1));
    finish_class(session);
    session.apply(parse_action(split_words("open_class_plan 1"), session, "script", 4));
    CHECK(session.plan().trainee == "Ann");
}
