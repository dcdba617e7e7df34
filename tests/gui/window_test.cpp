// The real window on a virtual screen: facts about what it shows, never pixels of one machine.
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "units/quantity_text.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"
#include "xvfb.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using test::Image;
using test::Room;
using test::shipped;

namespace {

// What the command line would print for a plan, from the same libraries.
std::string mark_of(const std::string& exercise_file, const std::string& plan_file) {
    const grading::Exercise exercise = grading::read_exercise(exercise_file);
    const weld::Plan plan = weld::read_plan(plan_file, *exercise.part, *exercise.shop);
    const grading::Mark mark = grading::grade(exercise, *weld::simulate(exercise.part, exercise.shop, plan));
    return "mark " + units::number_text(mark.total, 1) + (mark.passed ? " passed" : " not passed");
}

// Warm colours of the heat scale: much more red than blue.
int warm_pixels(const Image& image) {
    int count = 0;
    for (int y = 100; y < image.height - 160; ++y)
        for (int x = 340; x < image.width - 20; ++x) {
            const unsigned char* pixel = image.at(x, y);
            count += pixel[0] > 150 && pixel[0] > pixel[2] + 60;
        }
    return count;
}

} // namespace

TEST_CASE("the window opens an exercise, draws it, and ends well") {
    const Room room("opens");
    const auto ran =
        room.window("--open '" + shipped("tee_coupon.exercise.toml") + "' --screenshot '" + room.path("a.png") + "'");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    const Image image = test::read_image(room.path("a.png"));
    CHECK(image.width == 1280);
    CHECK(image.height == 800);
    CHECK(image.colours() > 200); // shaded metal and smooth text; a blank window has a handful
}

TEST_CASE(
    "a weld played in the window is hot in its middle, cold at its start, and marked as the command line marks it") {
    const Room room("plays");
    room.write("script", "open '" + shipped("tee_coupon.model.plan.toml") +
                             "'\n"
                             "start\nfinish\nprint mark\n"
                             "toggle isotherms\n"
                             "time 0\nscreenshot '" +
                             room.path("cold.png") +
                             "'\n"
                             "field peak\nscreenshot '" +
                             room.path("peak.png") + "'\nquit\n");
    const auto ran = room.window("--script '" + room.path("script") + "'");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    CHECK(ran.output.find(mark_of(shipped("tee_coupon.exercise.toml"), shipped("tee_coupon.model.plan.toml"))) !=
          std::string::npos);
    const int cold = warm_pixels(test::read_image(room.path("cold.png")));
    const int hot = warm_pixels(test::read_image(room.path("peak.png")));
    CHECK(hot > cold + 500);
}

TEST_CASE("a script with a mistake says which line, and leaves with 2") {
    const Room room("mistake");
    room.write("script", "bench order\nbench kitchen\n");
    const auto ran = room.window("--script '" + room.path("script") + "'");
    CHECK(ran.exit_code == 2);
    CHECK(ran.output.find("script:2:") != std::string::npos);
}

TEST_CASE("a file that is no exercise is shown, not fatal") {
    const Room room("bad_file");
    room.write("bad.exercise.toml", "title = [\n");
    const auto ran =
        room.window("--open '" + room.path("bad.exercise.toml") + "' --screenshot '" + room.path("a.png") + "'");
    CHECK(ran.exit_code == 0);
    CHECK(test::read_image(room.path("a.png")).colours() > 50);
}

TEST_CASE("what is painted where something has changed makes the picture that is painted as a whole") {
    const Room room("changes");
    int pairs = 0;
    std::string script;
    const auto pair = [&] {
        const std::string number = std::to_string(pairs++);
        script += "screenshot '" + room.path("changed" + number + ".png") + "'\ndraw_all\nscreenshot '" +
                  room.path("whole" + number + ".png") + "'\n";
    };
    const auto after = [&](const std::string& lines) {
        script += lines + "\n";
        pair();
    };
    after("open '" + shipped("lap_strip.model.plan.toml") + "'");
    for (const char* bench : {"setup", "order", "weld"})
        after(std::string("bench ") + bench);
    after("start\nfinish");
    // The heat under way: the camera, the clock, the colours and the shape move from one frame to the next.
    after("play\ntime 10");
    for (const char* line :
         {"time 20", "time 20.5", "time 21", "time 60", "time 60.3", "look top", "time 61", "look corner", "field peak", "field temperature",
          "toggle deformed", "time 90", "choose_gauge camber", "pause", "time 30", "toggle isotherms", "shade dark",
          "click Menu", "language spanish", "bench inspect"})
        after(line);
    script += "quit\n";
    room.write("script", script);
    const auto ran = room.window("--script '" + room.path("script") + "'");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    for (int k = 0; k < pairs; ++k) {
        const Image changed = test::read_image(room.path("changed" + std::to_string(k) + ".png"));
        const Image whole = test::read_image(room.path("whole" + std::to_string(k) + ".png"));
        CAPTURE(k);
        CHECK(changed.rgb == whole.rgb);
    }
}
