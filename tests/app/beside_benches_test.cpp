// What stands beside the job: remarks that lead on, questions of lessons, the class.
#include "screen.h"

#include <doctest/doctest.h>
#include <imgui_internal.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <thread>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::Screen;
using app::test::shipped;

TEST_CASE(
    "a number is answered once and stays to be read, and the record tells of it before Lessons was opened again") {
    const Desk desk("answered_once");
    {
        Screen screen(desk.places);
        screen.session.apply(act::AddTrainee{"Ann Lee"});
        screen.click("Lessons");
        screen.click("cylinders");
        screen.frames(2);
        const auto& asked = screen.state.lessons.asked;
        for (std::size_t k = 0; k < asked.size() && !screen.shows("answer given"); ++k)
            if (asked[k].posed.choices.empty()) {
                screen.state.lessons.asked[k].typed = std::to_string(asked[k].posed.right_value);
                screen.frames(2);
                screen.click("Answer");
                CHECK(asked[k].answer == lesson::Judgement::right);
            }
        CHECK(screen.shows("answer given"));
        REQUIRE(screen.session.logbook().questions().size() == 1);
        CHECK(screen.session.logbook().questions()[0].asked == 1);
    }
    Screen screen(desk.places);
    screen.click("Record");
    screen.click("Ann Lee");
    screen.frames(2);
    CHECK(screen.shows("cylinders"));
}

TEST_CASE("an instructor chooses exercise and folder, marks the class and opens a plan, by mouse") {
    const Desk desk("class_by_mouse");
    const auto folder = desk.places.configuration / "handed_in";
    std::filesystem::create_directories(folder);
    std::filesystem::copy_file(shipped("tee_coupon.model.plan.toml"), folder / "ann.plan.toml");
    std::ofstream(folder / "bob.plan.toml") << "title = [\n";
    Screen screen(desk.places);
    screen.click("Record");
    screen.click("Class");
    screen.click("class exercise");
    screen.click("tee_coupon");
    screen.click("Choose the folder …");
    screen.frames(2);
    screen.session.apply(act::LookInto{desk.places.configuration});
    screen.frames(2);
    screen.click("handed_in/");
    screen.frames(2);
    screen.click("Choose the folder");
    CHECK(std::filesystem::equivalent(screen.session.class_choice().folder, folder));
    screen.click("Mark the class");
    for (int k = 0; k < 600 && screen.session.class_busy(); ++k) {
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
        screen.frame();
    }
    screen.frames(3);
    REQUIRE(screen.session.marked_class()->finished);
    CHECK(screen.shows("distribution"));
    // A plan of which much is to be said takes several lines, and its row is all of them, to the last column.
    const Placed row = *screen.find("bob.plan.toml");
    CHECK(row.high.y - row.low.y > 1.9f * ImGui::GetFontSize());
    screen.move_to(row.high.x - 20, row.high.y - 5);
    screen.frame();
    CHECK(ImGui::GetCurrentContext()->HoveredIdPreviousFrame == row.item);
    screen.click("ann.plan.toml");
    CHECK(screen.session.view().bench == Bench::order);
    CHECK_FALSE(screen.session.plan().moves.empty());
    screen.click("Hints");
    screen.frames(2);
    screen.click("Take the next hint");
    CHECK(screen.session.hints_given() == 1);
}

TEST_CASE("a remark on a gauge leads to the move and to what single changes of the order would do") {
    const Desk desk("remark_leads");
    Screen screen(desk.places, 1280, 2400); // the remarks are in sight
    screen.open(shipped("tee_coupon.one_side.plan.toml"));
    Session& session = screen.session;
    session.apply(act::StartWeld{});
    test::finish(session);
    REQUIRE(session.marked());
    REQUIRE(std::ranges::any_of(session.marked()->mark.remarks, [](const grading::Remark& remark) {
        return remark.aspect == grading::Aspect::gauges && remark.verdict != grading::Verdict::pass && remark.move >= 0;
    }));
    screen.press_key('5');
    screen.frames(3);
    screen.click("Compare with other orders");
    CHECK(session.view().chart == Chart::orders);
    CHECK(session.among_orders_busy());
    screen.frames(2);
    CHECK(screen.shows("Stop comparing"));
    session.apply(act::StopComparing{});
}
