// A whole exercise by mouse and keyboard: xdotool works the real window as a trainee would, from Brief to Inspect, and
// the mark that ends up in the record is the one the plan's file gets.
#include "grading/grade.h"
#include "grading/variant.h"
#include "hands.h"
#include "record/record.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using test::Room;
using test::shipped;

TEST_CASE("the lift arm from brief to inspection, by xdotool") {
    const Room room("hands");
    test::work(room, "", R"sh(
at Record 'trainee name'
at 'trainee name'
xdotool type --delay 80 'Apprentice'
at Add
key 1 lift_arm
at lift_arm pivots
at 'On to the setup' 'more Volts'
at 'more Volts'
at 'On to the order' seam_top
for joint in seam_top seam_bottom; do at $joint; done
at 'Add to the plan'
at seams
at 'sides by turns'
at 'Add to the plan'
key 4 grows
at grows
key ctrl+Return Pause
at Pause 'Next move'
at 'Next move'
at 'Inspect the part'
key ctrl+shift+s 'file name'
save_as "$ROOM/mine.plan.toml"
leave
)sh");
    REQUIRE(std::filesystem::exists(room.path("mine.plan.toml")));

    const record::Record record(room.folder / "data" / "holdtrue" / "record.sqlite");
    const auto attempts = record.attempts();
    REQUIRE(attempts.size() == 1);
    const weld::PlanHeading heading = weld::read_heading(room.path("mine.plan.toml"));
    CHECK(heading.trainee == "Apprentice"); // who draws a variant
    const grading::Exercise exercise = grading::read_exercise_for(shipped("lift_arm.exercise.toml"), heading);
    const weld::Plan plan = weld::read_plan(room.path("mine.plan.toml"), *exercise.part, *exercise.shop);
    CHECK(plan.moves.size() > 10);
    CHECK(plan.predictions.size() == 1);
    const grading::Mark mark = grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
    CHECK(attempts[0].mark == doctest::Approx(mark.total).epsilon(1e-9));
    CHECK(attempts[0].passed == mark.passed);
}
