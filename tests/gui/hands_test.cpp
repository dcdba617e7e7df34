// A whole exercise by mouse and keyboard: xdotool works the real window as a trainee would, from Brief to Inspect, and
// the mark that ends up in the record is the one the plan's file gets.
#include "xvfb.h"

#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "record/record.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using test::Room;
using test::shipped;

TEST_CASE("the lift arm from brief to inspection, by xdotool") {
    const Room room("hands");
    room.write("script", "keep_places '" + room.path("places") + "'\n");
    // The inner shell has the screen: it starts the window and works it. `at LABEL` clicks a control by its name.
    room.write("hands.sh", R"(
at() {
    for try in $(seq 300); do
        line=$(grep -P "^$1\t" "$ROOM/places" 2>/dev/null | head -1)
        case "$line" in *enabled) [ "${line%disabled}" = "$line" ] && break;; esac
        sleep 0.1
    done
    [ -n "$line" ] || { echo "no control $1"; cat "$ROOM/places"; exit 9; }
    set -- $(printf '%s\n' "$line" | awk -F'\t' '{printf "%d %d", ($2+$4)/2, ($3+$5)/2}')
    xdotool mousemove $1 $2 sleep 0.25 mousedown 1 sleep 0.15 mouseup 1 sleep 0.3
}
"$PROGRAM" --script "$ROOM/script" & window=$!
trap 'kill $window 2>/dev/null' EXIT
at Record
at 'trainee name'
xdotool type --delay 60 'Apprentice'
at Add
xdotool key 1
at lift_arm
sleep 1
at 'On to the setup'
at 'more Volts'
at 'On to the order'
for joint in seam_top seam_bottom; do at $joint; done
at 'Add to the plan'
at seams
at 'sides by turns'
at 'Add to the plan'
xdotool key 4
at grows
xdotool key ctrl+Return
at Pause
at 'Next move'
at 'Inspect the part'
xdotool key ctrl+shift+s sleep 0.5
at 'file name'
xdotool type --delay 30 "$ROOM/mine.plan.toml"
xdotool key Return sleep 1
xdotool key ctrl+q
wait $window
echo "left with $?"
trap - EXIT
)");
    const auto ran = test::run(room.environment() + "ROOM='" + room.folder.string() + "' PROGRAM='" + HOLDTRUE_PROGRAM +
                               "' timeout 280 xvfb-run -a -s '-screen 0 1280x800x24' sh '" + room.path("hands.sh") + "'");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    CHECK(ran.output.find("left with 0") != std::string::npos);
    REQUIRE(std::filesystem::exists(room.path("mine.plan.toml")));

    const record::Record record(room.folder / "data" / "holdtrue" / "record.sqlite");
    const auto attempts = record.attempts();
    REQUIRE(attempts.size() == 1);
    const grading::Exercise exercise = grading::read_exercise(shipped("lift_arm.exercise.toml"));
    const weld::Plan plan = weld::read_plan(room.path("mine.plan.toml"), *exercise.part, *exercise.shop);
    CHECK(plan.moves.size() > 10);
    CHECK(plan.predictions.size() == 1);
    const grading::Mark mark = grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
    CHECK(attempts[0].mark == doctest::Approx(mark.total).epsilon(1e-9));
    CHECK(attempts[0].passed == mark.passed);
}
