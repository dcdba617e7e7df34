// An exercise by the keyboard alone: cards, order with waits, prediction, weld, inspection, and the plan saved. What
// the file holds is what the keys did.
#include "grading/read_exercise.h"
#include "hands.h"
#include "weld/read_plan.h"
#include "xvfb.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace holdtrue;
using test::Room;
using test::shipped;

TEST_CASE("the practice tee from brief to inspection, by keyboard alone") {
    const Room room("keys");
    room.write("script", "keep_places '" + room.path("places") + "'\n");
    room.write("keys.sh", std::string(test::hands) + R"sh(
to() { # CONTROL: Tab carries the frame to it
    for go in $(seq 120); do
        place "$1" | grep -q framed && return 0
        press Tab
    done
    missing "frame about $1"
}
"$PROGRAM" --script "$ROOM/script" & window=$!
trap 'kill $window 2>/dev/null' EXIT
await tee_coupon || missing tee_coupon
to tee_coupon
key Return 'On to the setup'
key 2 'more Volts'
to Volts
xdotool type --delay 120 '20'
press Return
key 3 'Add the wait'           # what Enter has ended takes no more digits
for pass in 1 2 3 4 5 6 7 8; do press Next; press a; done
await 'move 8' || missing 'move 8'
press Next                     # the first pass again: its move is chosen
to 'Put it before every run'
key Return 'move 12'           # waits before all four runs
key 4 grows
to shrinks
press Right
press Right
press Return
for gauge in 2 3; do press Tab; press Right; press Right; press Return; done
xdotool keydown ctrl; press Return; xdotool keyup ctrl
await Pause 600 || missing Pause
key 5 'Try again from here'
key ctrl+shift+s 'file name'
xdotool type --delay 60 "$ROOM/mine.plan.toml"
press Return
for try in $(seq 100); do [ -f "$ROOM/mine.plan.toml" ] && break; sleep 0.1; done
leave
)sh");
    const auto ran = room.on_a_screen("sh \"$ROOM/keys.sh\"");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    CHECK(ran.output.find("left with 0") != std::string::npos);

    const grading::Exercise exercise = grading::read_exercise(shipped("tee_coupon.exercise.toml"));
    const weld::Plan plan = weld::read_plan(room.path("mine.plan.toml"), *exercise.part, *exercise.shop);
    CHECK(plan.cards.at(0).volts_v == doctest::Approx(20));
    CHECK(plan.moves.size() == 12);
    CHECK(std::ranges::count_if(
              plan.moves, [](const weld::Move& move) { return std::holds_alternative<weld::Wait>(move.what); }) == 4);
    REQUIRE(plan.predictions.size() == 3);
    for (const weld::Prediction& prediction : plan.predictions)
        CHECK(prediction.sense == weld::Sense::grows);
}
