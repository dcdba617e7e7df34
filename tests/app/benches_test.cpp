// All benches with real widgets and injected mouse and keys, without a window system and without OpenGL.
#include "app/ui/text_scale.h"
#include "screen.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::Screen;
using app::test::shipped;

TEST_CASE("without an exercise every bench draws and offers the shipped ones") {
    const Desk desk("nothing_open");
    Screen screen(desk.places);
    CHECK(screen.shows("tee_coupon"));
    for (const char* bench : {"Setup", "Order", "Weld", "Inspect", "Lessons", "Record", "Check", "Brief"})
        screen.click(bench);
    screen.click("tee_coupon");
    REQUIRE(screen.session.has_exercise());
    CHECK(screen.session.exercise().name == "tee_coupon");
}

TEST_CASE("text is as large as the window has room for, and no smaller than it was made") {
    CHECK(scale_with_room({3200, 2000}) == doctest::Approx(largest_scale));
    CHECK(scale_with_room({1280, 800}) == doctest::Approx(1.2));
    CHECK(scale_with_room({2080, 800}) == doctest::Approx(1.2)); // the narrower side decides
    CHECK(scale_with_room({640, 480}) == 1);
}

TEST_CASE("the tee coupon from brief to inspection, by mouse alone") {
    const Desk desk("whole_job");
    Screen screen(desk.places);
    screen.click("tee_coupon");
    screen.click("On to the setup");
    screen.click("On to the order");
    for (const part::Joint& joint : screen.session.part().joints)
        screen.click(joint.name);
    screen.click("Add to the plan"); // tacks
    screen.click("seams");
    screen.click("sides by turns");
    screen.click("Add to the plan");
    CHECK(screen.session.plan_problems().empty());
    screen.click("On to the weld");
    screen.click("grows");
    CHECK(screen.session.plan().predictions.size() == 1);
    screen.click("Weld the plan");
    test::finish(screen.session);
    screen.frames(3);
    REQUIRE(screen.session.marked());
    CHECK(screen.session.view().playing);
    screen.click("Pause");
    screen.click("Next move");
    CHECK(screen.session.view().time_s > 0);
    screen.click("timeline");
    CHECK(screen.session.view().time_s == doctest::Approx(screen.session.marked()->outcome->total_s / 2).epsilon(0.01));
    screen.click("Inspect the part");
    CHECK(screen.session.view().bench == Bench::inspect);
    screen.click("What each move did");
    screen.click("Try again from here");
    CHECK(screen.session.view().bench == Bench::order); // it was welded too hot, which must be met
}

TEST_CASE("opening another exercise over an unsaved plan asks, saves under a name and goes on") {
    const Desk desk("asks_by_mouse");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.session.apply(act::WeldNext{0});
    screen.session.apply(act::Open{shipped("lap_strip.exercise.toml")});
    screen.frames(3);
    screen.click("Save");
    screen.frames(3);
    ImGui::GetIO().AddInputCharactersUTF8((desk.places.configuration / "mine").c_str());
    screen.frames(2);
    screen.click("Save plan");
    CHECK(screen.session.exercise().name == "lap_strip");
    CHECK(std::filesystem::exists(desk.places.configuration / "mine.plan.toml"));
}

TEST_CASE("a file with a mistake is shown and can be closed") {
    const Desk desk("problem_shown");
    Screen screen(desk.places);
    screen.session.apply(act::Open{desk.places.configuration / "missing.exercise.toml"});
    screen.frames(2);
    screen.click("Close");
    CHECK(screen.session.problems().empty());
}

TEST_CASE("text reaches the contrast of WCAG 2.1 AA on everything it stands on, by day and by night") {
    for (const Shade shade : {Shade::light, Shade::dark}) {
        const Theme theme = theme_of(shade);
        for (const app::Colour ground : {theme.ground, theme.sheet, theme.raised, theme.accent_wash})
            for (const app::Colour ink : {theme.ink, theme.quiet, theme.accent, theme.good, theme.caution, theme.bad})
                CHECK(contrast(ink, ground) >= 4.5);
        CHECK(contrast(theme.on_accent, theme.accent) >= 4.5);
        CHECK(contrast(theme.sheet, theme.caution) >= 4.5);
    }
    // WCAG 2.1: black on white is 21 : 1.
    CHECK(contrast(0xff000000, 0xffffffff) == doctest::Approx(21));
}

TEST_CASE("every bench keeps its controls inside the window at every size and scale") {
    const Desk desk("sizes");
    struct Size {
        float width, height;
        double scale;
    };
    for (const Size& size : {Size{1280, 800, 1}, Size{1920, 1080, 1}, Size{1920, 1200, 1.5}, Size{3200, 2000, 2.5}}) {
        Screen screen(desk.places, size.width, size.height, size.scale);
        screen.open(shipped("lift_arm.model.plan.toml"));
        for (const char* bench : {"Brief", "Setup", "Order", "Weld", "Inspect", "Lessons", "Record", "Check"}) {
            screen.click(bench);
            for (const Placed& place : screen.placed) {
                INFO(bench << " " << place.label << " at scale " << size.scale);
                CHECK(place.low.x >= 0);
                CHECK(place.high.x <= size.width + 0.5f);
            }
        }
    }
}
