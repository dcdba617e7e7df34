// Exercises by the keyboard alone: cards, order with waits, prediction, weld, inspection, and the plan saved. What the
// file holds is what the keys did.
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "hands.h"
#include "record/hand_in.h"
#include "units/quantity_text.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace holdtrue;
using test::Room;
using test::shipped;

TEST_CASE("the practice tee from brief to inspection, by keyboard alone") {
    const Room room("keys");
    test::work(room, "", R"sh(
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
save_as "$ROOM/mine.plan.toml"
leave
)sh");

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

TEST_CASE("the lift arm from brief to hand-in, by keyboard alone") {
    const Room room("keys_arm");
    test::work(room, "", R"sh(
await lift_arm || missing lift_arm
to lift_arm
key Return 'On to the setup'
to 'On to the setup' ctrl+Tab  # past the other exercises
key Return 'more Volts'
walk Tab Right Right
key Return heel_left           # the card for the bushes
to Volts
xdotool type --delay 60 '20'
walk Return Tab
xdotool type --delay 60 '11'   # the wire feed, put back
press Return
press ctrl+z
to 'Share of the arc on the first member'
xdotool type --delay 60 '65'
walk Return
key 3 'Add the wait'
for tack in 1 2 3; do press w; press a; done
await 'move 3' || missing 'move 3'
press a                        # backwards
press ctrl+Up
press ctrl+z
press ctrl+y
press ctrl+Up
to seam_top ctrl+Tab
walk Return Tab Return Tab Return Tab Return Tab Return Tab Return Tab Return
to 'Add to the plan'
key Return 'move 27'           # the other tacks, with the turns they need
to tacks shift+Tab
walk Right Right Return
to 'Add to the plan'
walk Return
to plugs shift+Tab
walk Left Return
to 'Add to the plan'
walk Return
to 'Put it before every run'
key Return 'move 110'          # which was the last, and is chosen
to top_up
key Return 'move 111'
for move in 112 113 114 115; do to 'Free it'; key Return "move $move"; done
key 4 grows
to shrinks
walk Right Return
for gauge in 2 3 4 5 6; do walk Tab Right Return; done
xdotool keydown ctrl; press Return; xdotool keyup ctrl
await Pause 600 || missing Pause
key p Play
press period
press ctrl+period
press End
key 5 'Try again from here'
cut -f1 "$ROOM/places" | grep ' of 100' >"$ROOM/mark"
to 'Show the card'
key Return 'On to the order'
key 7 'trainee name'           # a hand-in tells whose it is
to 'trainee name'
walk Return
xdotool type --delay 60 'Ann Lee'
key Return 'Ann Lee'
key 5 'Try again from here'
to Menu shift+Tab
key Return 'Hand in …'
to 'Hand in …' Down
key Return 'file name'
save_as "$ROOM/mine.handin.zip"
key ctrl+shift+s 'file name'
save_as "$ROOM/mine.plan.toml"
leave
)sh");

    const grading::Exercise exercise = grading::read_exercise(shipped("lift_arm.exercise.toml"));
    const weld::Plan plan = weld::read_plan(room.path("mine.plan.toml"), *exercise.part, *exercise.shop);
    const auto bushes = std::ranges::find(plan.cards, "bushes", &arc::SettingCard::name);
    REQUIRE(bushes != plan.cards.end());
    CHECK(bushes->volts_v == doctest::Approx(20));
    CHECK(bushes->aim == doctest::Approx(0.65));
    CHECK(bushes->wire_feed_m_per_s == plan.cards.front().wire_feed_m_per_s);
    // Three tacks one by one, the third turned round and carried to the front; then all the others, plugs and seams.
    std::vector<std::string> welded;
    int turns = 0, waits = 0, freed = 0;
    for (const weld::Move& move : plan.moves) {
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what))
            welded.push_back(exercise.part->passes[static_cast<std::size_t>(weld->pass)].name);
        turns += std::holds_alternative<weld::Turn>(move.what);
        waits += std::holds_alternative<weld::Wait>(move.what);
        const auto* clamp = std::get_if<weld::ClampMove>(&move.what);
        freed += clamp && !clamp->fix;
    }
    REQUIRE(welded.size() == exercise.part->passes.size());
    CHECK(std::vector(welded.begin(), welded.begin() + 3) ==
          std::vector<std::string>{"seam_top/tack3", "seam_top/tack1", "seam_top/tack2"});
    CHECK(std::get<weld::WeldPass>(plan.moves[0].what).reversed);
    CHECK(turns > 1);
    CHECK(waits == 38); // before every run and plug
    CHECK(freed == 4);
    CHECK(plan.predictions.size() == 6);

    // The mark on the bench is that of the saved plan, and what was handed in is that plan.
    const grading::Mark mark = grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
    CHECK(room.read("mark") == units::number_text(mark.total, 1) + " of 100\n");
    const record::Submission handed_in = record::read_submission(room.path("mine.handin.zip"), exercise.name);
    CHECK(std::ranges::equal(record::plan_of(handed_in, exercise, "mine.handin.zip").moves, plan.moves, {},
                             &weld::Move::what, &weld::Move::what));
}
