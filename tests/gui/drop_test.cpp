// Files dropped on the real window, as from a file manager.
#include "hands.h"
#include "xvfb.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using test::Room;
using test::shipped;

TEST_CASE("a plan, an exercise, a class, a broken file and a strange one, dropped on the window") {
    namespace fs = std::filesystem;
    const Room room("drop");
    const std::string exercise = shipped("tee_coupon.exercise.toml");
    room.write("script", "keep_places '" + room.path("places") + "'\n");
    fs::copy_file(shipped("tee_coupon.model.plan.toml"), room.path("plan of mine.plan.toml")); // names its exercise
    const std::string plan = room.read("plan of mine.plan.toml");
    const auto at = plan.find("exercise = \"");
    REQUIRE(at != std::string::npos);
    room.write("plan of mine.plan.toml",
               plan.substr(0, at) + "exercise = \"" + exercise + "\"" + plan.substr(plan.find('\n', at)));
    fs::create_directories(room.folder / "class");
    for (const char* name : {"tee_coupon.model.plan.toml", "tee_coupon.too_hot.plan.toml"})
        fs::copy_file(shipped(name), room.folder / "class" / name);
    const std::string broken = "title = \"x\"\nexercise = \"" + exercise + "\"\n[[move]]\nwield = \"left/1\"\n";
    room.write("broken.plan.toml", broken);
    room.write("shopping list.txt", "tape, chalk\n");
    room.write("drop.sh", std::string(test::hands) + R"sh(
drop() { "$DROP_FILES" "$1" || { echo "not taken: $1"; exit 8; }; }
told() { # WORDS: whether a message with them is shown
    for try in $(seq 300); do
        grep -q "$1" "$ROOM/places" && return 0
        sleep 0.1
    done
    echo "not told: $1"
    cat "$ROOM/places"
    exit 7
}
"$PROGRAM" --script "$ROOM/script" & window=$!
trap 'kill -9 $window 2>/dev/null' EXIT
await tee_coupon || missing tee_coupon
drop "$ROOM/plan of mine.plan.toml"
await lean || missing lean                       # a gauge of the tee
press 3
await 'move 1' || missing 'move 1'
drop "$ROOM/broken.plan.toml"
told 'broken.plan.toml:4: .*weld'                # the line, and what was meant
shown 'move 1' || missing 'move 1'               # the plan on the bench stays
at Close
drop "$ROOM/shopping list.txt"
told 'shopping list.txt: .*neither an exercise nor a plan'
shown 'move 1' || missing 'move 1'
at Close
drop "$ROOM/class"
await 'Mark the class' || missing 'Mark the class'
drop "$EXERCISE"
await sag || missing sag                         # a gauge of the lapped strips
leave
)sh");
    const auto ran = room.on_a_screen("DROP_FILES='" HOLDTRUE_DROP_FILES "' EXERCISE='" +
                                      shipped("lap_strip.exercise.toml") + "' sh \"$ROOM/drop.sh\"");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    CHECK(ran.output.find("left with 0") != std::string::npos);
    CHECK(room.read("broken.plan.toml") == broken);
    CHECK(room.read("shopping list.txt") == "tape, chalk\n");
}
