// Keys: the frame that they carry, what they press and scroll, and the list of them.
#include "screen.h"

#include <doctest/doctest.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::framed;
using app::test::Screen;
using app::test::shipped;

namespace {

// The labels at which the frame stops on its way once round.
std::vector<std::string> walk(Screen& screen) {
    std::vector<std::string> labels;
    for (int k = 0; k < 200; ++k) {
        screen.press_key(GLFW_KEY_TAB);
        const std::string label = framed(screen);
        if (!labels.empty() && label == labels.front())
            break;
        labels.push_back(label);
    }
    return labels;
}

} // namespace

TEST_CASE("keys do what the list says") {
    const Desk desk("keys");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key('3');
    CHECK(screen.session.view().bench == Bench::order);
    screen.press_key(GLFW_KEY_PAGE_DOWN);
    screen.press_key('A');
    REQUIRE(screen.session.plan().moves.size() == 1);
    screen.press_key('Z', true);
    CHECK(screen.session.plan().moves.empty());
    screen.press_key('Y', true);
    CHECK(screen.session.plan().moves.size() == 1);
    screen.press_key(GLFW_KEY_F1);
    CHECK(screen.session.view().shortcuts_shown);
    screen.frames(2);
    screen.click("Close");
    CHECK_FALSE(screen.session.view().shortcuts_shown);
    std::set<std::string> keys;
    for (const Shortcut& shortcut : shortcuts(screen.session))
        CHECK_MESSAGE(keys.insert(shortcut.keys).second, "two meanings: " << shortcut.keys);
    screen.press_key('Q', true);
    CHECK(screen.session.question() == Question::save_first);
    screen.frames(2);
    screen.click("Go on without saving");
    CHECK(screen.session.should_close());
}

TEST_CASE("Tab carries the keyboard's frame once round the bench, of the moves it stops at the chosen one") {
    const Desk desk("frame");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key('3');
    for (int k = 0; k < 3; ++k) {
        screen.press_key(GLFW_KEY_PAGE_DOWN);
        screen.press_key('A');
    }
    REQUIRE(screen.session.plan().moves.size() == 3);
    CHECK(screen.session.view().move == 2); // what was added is chosen
    const std::vector<std::string> stops = walk(screen);
    CHECK(stops.front() == "Undo");
    CHECK(std::ranges::count(stops, "") == 0);
    CHECK(std::ranges::count(stops, "move 3") == 1);
    CHECK(std::ranges::count(stops, "move 1") == 0);
    CHECK(std::ranges::count(stops, "remove 3") == 0);
    CHECK(std::ranges::count(stops, "Add the wait") == 1);
    CHECK(std::ranges::count(stops, "Menu") == 1);

    while (framed(screen) != "move 3")
        screen.press_key(GLFW_KEY_TAB);
    screen.press_key(GLFW_KEY_UP);
    screen.frames(2);
    CHECK(framed(screen) == "move 2");
    CHECK(screen.session.view().move == 1);
    screen.press_key(GLFW_KEY_UP, true); // carries the move, and the frame with it
    screen.frames(2);
    CHECK(screen.session.view().move == 0);
    CHECK(framed(screen) == "move 1");
    screen.press_key(GLFW_KEY_DELETE);
    screen.frames(2);
    REQUIRE(screen.session.plan().moves.size() == 2);
    CHECK(screen.session.view().move == 0);
    screen.press_key(GLFW_KEY_TAB, false, true);
    CHECK(framed(screen) != "move 1");
}

TEST_CASE("a key that chooses or turns leaves the keyboard's frame where it is") {
    const Desk desk("frame_stays");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key('3');
    while (framed(screen) != "Add the wait")
        screen.press_key(GLFW_KEY_TAB);
    const auto stays_after = [&](int key, bool ctrl = false, bool alt = false) {
        screen.press_key(key, ctrl, false, alt);
        screen.frames(2);
        CHECK_MESSAGE(framed(screen) == "Add the wait", key);
    };
    for (const int pass : {0, 1, 2}) {
        stays_after(GLFW_KEY_PAGE_DOWN);
        CHECK(screen.session.view().pass == pass);
    }
    stays_after(GLFW_KEY_PAGE_UP);
    CHECK(screen.session.view().pass == 1);
    const scene::Camera before = screen.session.view().camera;
    stays_after(GLFW_KEY_RIGHT, false, true);
    CHECK(screen.session.view().camera.azimuth_rad != before.azimuth_rad);
    CHECK(screen.session.view().fitted);
    stays_after(GLFW_KEY_UP, false, true);
    CHECK(screen.session.view().camera.elevation_rad != before.elevation_rad);
    const double fitted_m = (stays_after(GLFW_KEY_PAGE_DOWN, false, true), screen.session.view().camera.distance_m);
    CHECK_FALSE(screen.session.view().fitted);
    stays_after(GLFW_KEY_PAGE_UP, false, true);
    stays_after(GLFW_KEY_PAGE_UP, false, true);
    CHECK(screen.session.view().camera.distance_m < fitted_m);
    CHECK(screen.session.view().nearer == 1);
    CHECK(screen.session.view().pass == 1);
    // The part goes the way of the arrow, by as much both ways.
    const auto at = [&] { return screen.place_of(screen.session.part().joints.front().path.front()); };
    screen.frames(2);
    const ImVec2 here = at();
    const auto shift = [&](int key) {
        screen.press_key(key, false, true, true);
        screen.frames(2);
        CHECK(framed(screen) == "Add the wait");
        return ImVec2{at().x - here.x, at().y - here.y};
    };
    CHECK(shift(GLFW_KEY_RIGHT).x > 20);
    CHECK(std::abs(shift(GLFW_KEY_LEFT).x) < 0.1);
    CHECK(shift(GLFW_KEY_UP).y < -20);
    const ImVec2 back = shift(GLFW_KEY_DOWN);
    CHECK(std::hypot(back.x, back.y) < 0.1);
    // By itself an arrow walks.
    screen.press_key(GLFW_KEY_UP);
    screen.frames(2);
    CHECK(framed(screen) != "Add the wait");
}

TEST_CASE("Ctrl+Tab goes from sheet to sheet and back, and a control that goes away leaves its place to Tab") {
    const Desk desk("sheets");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key(GLFW_KEY_TAB, true);
    const std::string first = framed(screen); // of the brief's text
    screen.press_key(GLFW_KEY_TAB, true);
    CHECK(framed(screen) == "On to the setup");
    std::vector<std::string> firsts{first, framed(screen)};
    for (int k = 0; k < 20 && framed(screen) != first; ++k) {
        screen.press_key(GLFW_KEY_TAB, true);
        firsts.push_back(framed(screen));
    }
    REQUIRE(framed(screen) == first);
    CHECK(firsts.size() < 8);
    for (auto back = firsts.rbegin() + 1; back != firsts.rend(); ++back) {
        screen.press_key(GLFW_KEY_TAB, true, true);
        CHECK(framed(screen) == *back);
    }

    screen.press_key('3');
    screen.press_key('W');
    screen.press_key('A');
    screen.press_key('4');
    while (framed(screen) != "Weld the plan")
        screen.press_key(GLFW_KEY_TAB);
    const float left = screen.find("Weld the plan")->low.x;
    screen.press_key(GLFW_KEY_ENTER);
    screen.frames(2);
    REQUIRE_FALSE(screen.shows("Weld the plan"));
    CHECK(framed(screen).empty()); // a second Enter presses nothing
    screen.press_key(GLFW_KEY_TAB);
    CHECK(framed(screen) == "Cancel");
    CHECK(screen.find("Cancel")->low.x == left);
}

TEST_CASE("the text of a lesson is framed and read to its end by keys") {
    const Desk desk("read_by_keys");
    Screen screen(desk.places);
    screen.press_key('6');
    screen.frames(3);
    for (int k = 0; k < 60 && !framed(screen).starts_with("sheet text"); ++k)
        screen.press_key(GLFW_KEY_TAB);
    REQUIRE(framed(screen).starts_with("sheet text"));
    const ImGuiWindow* text = screen.find(framed(screen))->window;
    REQUIRE(text->ScrollMax.y > 0);
    CHECK(text->Scroll.y == 0);
    screen.press_key(GLFW_KEY_PAGE_DOWN);
    screen.frames(2);
    CHECK(text->Scroll.y > 0);
    CHECK(text->Scroll.y <= text->InnerRect.GetHeight()); // no line is passed over
    for (int page = 0; page < 20; ++page) {
        screen.press_key(GLFW_KEY_PAGE_DOWN);
        screen.frame();
    }
    CHECK(text->Scroll.y == text->ScrollMax.y);
    CHECK(framed(screen).starts_with("sheet text"));
    screen.press_key(GLFW_KEY_TAB); // and on to the figure
    CHECK_FALSE(framed(screen).starts_with("sheet"));
}

TEST_CASE("Enter presses what is framed in an open list and in the menu") {
    const Desk desk("lists");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key('2');
    const auto enter = [&] {
        screen.press_key(GLFW_KEY_ENTER);
        screen.frames(3);
    };
    while (framed(screen) != "Gas")
        screen.press_key(GLFW_KEY_TAB);
    REQUIRE(screen.session.shop().gases.size() > 1);
    const std::string gas = screen.session.plan().cards[0].gas;
    enter(); // opens the list at the gas that is chosen
    screen.press_key(gas == screen.session.shop().gases[0].id ? GLFW_KEY_DOWN : GLFW_KEY_UP);
    enter();
    CHECK(screen.session.plan().cards[0].gas != gas);
    CHECK(framed(screen) == "Gas");

    while (framed(screen) != "Menu")
        screen.press_key(GLFW_KEY_TAB);
    enter();
    while (framed(screen) != "Hand in …")
        screen.press_key(GLFW_KEY_DOWN);
    enter();
    CHECK(screen.shows("file name"));
}

TEST_CASE("gauges, the heat at a pass and the clock are worked by keys") {
    const Desk desk("chosen_by_key");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.model.plan.toml"));
    Session& session = screen.session;
    const int gauges = static_cast<int>(session.part().gauges.size());
    for (int g = 0; g < gauges; ++g) {
        screen.press_key('G');
        CHECK(session.view().gauge == g);
    }
    screen.press_key('G');
    CHECK(session.view().gauge == -1);
    screen.press_key('G', false, true);
    CHECK(session.view().gauge == gauges - 1);

    // A gauge whose prediction is in the frame stands out on the part.
    screen.press_key('4');
    while (framed(screen) != "shrinks" && framed(screen) != "stays" && framed(screen) != "grows")
        screen.press_key(GLFW_KEY_TAB);
    screen.frames(2);
    CHECK(screen.state.weld.pointed_gauge == 0);

    session.apply(act::StartWeld{});
    test::finish(session);
    session.apply(act::Pause{});
    screen.press_key(GLFW_KEY_HOME);
    CHECK(session.view().time_s == 0);
    screen.press_key('.', true);
    screen.press_key('.', true);
    screen.press_key(',', true);
    CHECK(session.view().time_s == 10);
    screen.press_key(GLFW_KEY_END);
    CHECK(session.view().time_s == session.marked()->outcome->total_s);
    screen.press_key('5');
    session.apply(act::ShowChart{Chart::moves});
    screen.press_key(GLFW_KEY_PAGE_DOWN);
    REQUIRE(session.view().pass >= 0);
    CHECK_FALSE(session.view().probe);
    screen.press_key('H');
    REQUIRE(session.view().probe);
    CHECK(session.view().chart == Chart::heat);

    // Of the bars of a chart Tab stops at the chosen move's; arrows go on, and Enter leads where a click leads.
    session.apply(act::ShowChart{Chart::moves});
    session.apply(act::ChooseGauge{0});
    session.apply(act::ChooseMove{1});
    screen.frames(2);
    for (std::size_t k = 0; k < screen.placed.size() && !framed(screen).starts_with("bar "); ++k)
        screen.press_key(GLFW_KEY_TAB);
    CHECK(framed(screen) == "bar 2");
    screen.press_key(GLFW_KEY_RIGHT);
    screen.press_key(GLFW_KEY_RIGHT);
    screen.press_key(GLFW_KEY_LEFT);
    CHECK(framed(screen) == "bar 3");
    screen.frames(2);
    const ImGuiWindow* tip = ImGui::FindWindowByName("##Tooltip_00");
    REQUIRE(tip);
    CHECK((tip->Active && !tip->Hidden)); // its value
    screen.press_key(GLFW_KEY_ENTER);
    screen.frames(2);
    CHECK(session.view().move == 2);
    CHECK(framed(screen) == "bar 3");
    screen.press_key(GLFW_KEY_TAB);
    CHECK_FALSE(framed(screen).starts_with("bar "));
}

TEST_CASE("what a framed control says of itself covers no control that the frame can go to") {
    const Desk desk("tips");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.model.plan.toml"));
    screen.session.apply(act::StartWeld{});
    test::finish(screen.session);
    screen.session.apply(act::Pause{});
    screen.session.apply(act::ChooseMove{0});
    int said = 0;
    for (const char bench : {'1', '2', '3', '4', '5', '6', '7', '8'}) {
        screen.press_key(bench);
        screen.frames(2);
        const std::size_t stops = walk(screen).size();
        for (std::size_t k = 0; k < stops; ++k) {
            screen.press_key(GLFW_KEY_TAB);
            screen.frames(2);
            const ImGuiWindow* tip = ImGui::FindWindowByName("##Tooltip_00");
            if (!tip || !tip->Active || tip->Hidden)
                continue;
            ++said;
            CHECK(tip->Pos.x >= 0);
            CHECK(tip->Pos.y >= 0);
            CHECK(tip->Pos.x + tip->Size.x <= 1280);
            CHECK(tip->Pos.y + tip->Size.y <= 800);
            for (const Placed& control : screen.placed)
                if (control.item != 0 && control.enabled && control.stop && control.in_sight && !control.sheet)
                    CHECK_MESSAGE(!tip->Rect().Overlaps(ImRect(control.low, control.high)),
                                  bench << ": the tip of " << framed(screen) << " covers " << control.label);
        }
    }
    CHECK(said > 10);
}

TEST_CASE("keys pass over no line of a sheet on their way between its controls") {
    const Desk desk("read_between");
    Screen screen(desk.places, 1280, 420); // so low that what lies between two controls is more than a page
    screen.open(shipped("lift_arm.exercise.toml"));
    screen.press_key(GLFW_KEY_TAB);
    const std::string first = framed(screen);
    const ImGuiWindow* sheet = screen.find(first)->window;
    REQUIRE(sheet->ScrollMax.y > 3 * sheet->InnerRect.GetHeight());
    // Presses a key until it leads no further; returns how often the sheet went on while the frame stayed.
    const auto read = [&](int key) {
        int stayed = 0;
        for (int k = 0; k < 100; ++k) {
            const float before = sheet->Scroll.y;
            const std::string label = framed(screen);
            screen.press_key(key);
            screen.frames(2);
            const bool scrolled = sheet->Scroll.y != before;
            CHECK(std::abs(sheet->Scroll.y - before) < sheet->InnerRect.GetHeight());
            if (!scrolled && framed(screen) == label)
                break;
            stayed += framed(screen) == label;
        }
        return stayed;
    };
    // Past the marking and the cautions to the exercises, and back to the title.
    CHECK(read(GLFW_KEY_DOWN) >= 2);
    CHECK(sheet->Scroll.y == sheet->ScrollMax.y);
    CHECK(framed(screen) == screen.session.exercises().back().name);
    CHECK(read(GLFW_KEY_UP) >= 2);
    CHECK(sheet->Scroll.y == 0);
    CHECK(framed(screen) == first);
    // By pages the frame stays behind, until it is come back to.
    CHECK(read(GLFW_KEY_PAGE_DOWN) >= 4);
    CHECK(sheet->Scroll.y == sheet->ScrollMax.y);
    CHECK(read(GLFW_KEY_PAGE_UP) >= 4);
    CHECK(sheet->Scroll.y == 0);
    CHECK(framed(screen) == first);
}
