// The order bench, files and preferences by mouse and keyboard in the real window: what a plan file holds afterwards is
// what was done.
#include "grading/read_exercise.h"
#include "hands.h"
#include "part/part.h"
#include "weld/read_plan.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using test::Room;
using test::shipped;

namespace {

weld::Plan read_tee_plan(const std::string& file) {
    const grading::Exercise exercise = grading::read_exercise(shipped("tee_coupon.exercise.toml"));
    return weld::read_plan(file, *exercise.part, *exercise.shop);
}

const weld::WeldPass& weld_at(const weld::Plan& plan, std::size_t move) {
    return std::get<weld::WeldPass>(plan.moves.at(move).what);
}

} // namespace

TEST_CASE("passes clicked, turned round, dragged, undone and redone, a plan survives kill -9, a broken file is told") {
    const Room room("order_by_hand");
    room.write("again", "keep_places '" + room.path("places") + "'\n");
    room.write("broken.plan.toml", "title = \"x\"\nexercise = \"" + shipped("tee_coupon.exercise.toml") +
                                       "\"\n[[move]]\nwield = \"left/1\"\n");
    test::work(room, "open '" + shipped("tee_coupon.exercise.toml") + "'\nbench order\n", R"sh(
at Top 'pass left/tack1'        # from above both sides of the web are seen
at 'pass left/tack1' 'move 1'
at 'pass left/tack2' 'move 2'
at 'pass left/tack2'           # turns it round
at 'pass right/tack1' 'move 3'
drag 'move 3' 'move 1'         # right/tack1 becomes the first
press ctrl+z
press ctrl+y
sleep 2                        # at rest it is kept for recovery
kill -9 $window
wait $window
begin again
at 'Take it up again' 'move 3'
key ctrl+shift+s 'file name'     # the name that is offered is chosen, and typed over
save_as "$ROOM/mine.plan.toml"
# A file with mistakes is shown, and the bench stays as it was.
press ctrl+o
at 'file name'
xdotool type --delay 40 "$ROOM/broken.plan.toml"
press Return
at Close
# Imperial, Spanish, dark, twice as large: from the menu.
at Menu Units
at Units 'Imperial (in, °F)'
at 'Imperial (in, °F)'
at Menu Language
at Language Español
at Español
at Menu Colours
at Colours Dark
at Dark
at Menu 'Size of text'
at 'Size of text' '× 2.00'
at '× 2.00'
# Another pass makes it unsaved: quitting asks.
press Next
press a
press ctrl+q
at 'Go on without saving'
ended
)sh");

    const weld::Plan plan = read_tee_plan(room.path("mine.plan.toml"));
    const grading::Exercise exercise = grading::read_exercise(shipped("tee_coupon.exercise.toml"));
    REQUIRE(plan.moves.size() == 3);
    CHECK(weld_at(plan, 0).pass == part::find_pass(*exercise.part, "right/tack1"));
    CHECK(weld_at(plan, 1).pass == part::find_pass(*exercise.part, "left/tack1"));
    CHECK(weld_at(plan, 2).pass == part::find_pass(*exercise.part, "left/tack2"));
    CHECK_FALSE(weld_at(plan, 1).reversed);
    CHECK(weld_at(plan, 2).reversed);

    const std::string preferences = room.read("config/holdtrue/preferences.toml");
    INFO(preferences);
    for (const char* word : {"imperial", "spanish", "dark", "2"})
        CHECK(preferences.find(word) != std::string::npos);
    CHECK(preferences.find("mine.plan.toml") != std::string::npos); // the latest of the recent files
}
