// The bench Order: passes are clicked and chosen, rows stay where they are.
#include "screen.h"

#include <doctest/doctest.h>

#include <set>
#include <string>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::Screen;
using app::test::shipped;

TEST_CASE("a click on a pass of the part appends it, a second click turns its direction round") {
    const Desk desk("click_pass");
    Screen screen(desk.places);
    screen.open(shipped("lap_strip.exercise.toml"));
    screen.click("Order");
    const part::Part& part = screen.session.part();
    int pass = -1;
    for (std::size_t p = 0; p < part.passes.size() && pass < 0; ++p)
        if (!screen.session.why_not(act::WeldNext{static_cast<int>(p)}) && part.passes[p].kind == part::PassKind::run)
            pass = static_cast<int>(p);
    REQUIRE(pass >= 0);
    const part::Pass& wanted = part.passes[static_cast<std::size_t>(pass)];
    // A quarter along, where no tack lies on it.
    const part::Point point = part::path_point(part.joints[static_cast<std::size_t>(wanted.joint)],
                                               wanted.from_m + 0.3 * (wanted.to_m - wanted.from_m));
    const ImVec2 at = screen.place_of(point);
    screen.move_to(at.x, at.y);
    screen.press_mouse();
    REQUIRE(screen.session.plan().moves.size() == 1);
    const auto* weld = std::get_if<weld::WeldPass>(&screen.session.plan().moves[0].what);
    REQUIRE(weld);
    CHECK(weld->pass == pass);
    CHECK_FALSE(weld->reversed);
    screen.press_mouse();
    REQUIRE(screen.session.plan().moves.size() == 1);
    CHECK(std::get<weld::WeldPass>(screen.session.plan().moves[0].what).reversed);
    screen.click("Undo");
    screen.click("Undo");
    CHECK(screen.session.plan().moves.empty());
}

TEST_CASE("no row and no button moves as a move is chosen, a wait is added or a preview comes and goes") {
    const Desk desk("nothing_jumps");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.model.plan.toml"));
    screen.click("Order");
    screen.session.apply(act::AddCard{"tacks"}); // a second card: a weld's can be chosen
    test::finish(screen.session);                // the preview
    screen.frames(3);
    const auto top = [&](const char* label) {
        const auto place = screen.find(label);
        INFO(label);
        REQUIRE(place != screen.placed.end());
        return place->low.y;
    };
    constexpr const char* watched[]{"Undo", "move 1", "move 6", "Add the wait", "On to the weld"};
    std::vector<float> before;
    for (const char* label : watched)
        before.push_back(top(label));
    const auto all_stay = [&] {
        screen.frames(3);
        for (std::size_t k = 0; k < std::size(watched); ++k)
            CHECK_MESSAGE(top(watched[k]) == before[k], watched[k]);
    };
    screen.click("move 6");
    REQUIRE(screen.shows("card of the move"));
    all_stay();
    screen.click("Add the wait"); // the preview goes, a field for the time comes
    REQUIRE(screen.session.view().move == 6);
    REQUIRE(screen.shows("Time"));
    all_stay();
    test::finish(screen.session);
    all_stay();
    screen.click("remove 7");
    all_stay();
}

TEST_CASE("dragging in the view turns it and adds no pass") {
    const Desk desk("drag_view");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.click("Order");
    const scene::Camera before = screen.session.view().camera;
    const auto view = screen.find("part view");
    const float x = (view->low.x + view->high.x) / 2, y = (view->low.y + view->high.y) / 2;
    screen.move_to(x, y);
    ImGui::GetIO().MouseDown[0] = true;
    screen.frame();
    for (int k = 1; k <= 10; ++k)
        screen.move_to(x + 6.0f * static_cast<float>(k), y);
    ImGui::GetIO().MouseDown[0] = false;
    screen.frames(2);
    CHECK(screen.session.view().camera.azimuth_rad != before.azimuth_rad);
    CHECK(screen.session.plan().moves.empty());
    screen.click("Fit");
    CHECK(screen.session.view().fitted);
}

TEST_CASE("W goes from pass to pass as they can be welded, and says why none can") {
    const Desk desk("open_passes");
    Screen screen(desk.places);
    screen.open(shipped("lift_arm.exercise.toml"));
    Session& session = screen.session;
    screen.press_key('3');
    screen.press_key('W');
    CHECK(session.view().pass == 0);
    screen.press_key('W', false, true); // before the first: the last that can be welded as the part lies
    const int last = session.view().pass;
    CHECK(last > 0);
    CHECK_FALSE(session.why_not(act::WeldNext{last}));
    screen.press_key('W');
    CHECK(session.view().pass == 0);
    // Two keys a pass, until the part must be turned.
    std::vector<int> added;
    for (int k = 0; k < 60 && !session.why_not(act::ChooseOpenPass{1}); ++k) {
        screen.press_key('A');
        added.push_back(session.view().pass);
        screen.press_key('W');
    }
    CHECK(test::passes_of(session.plan()) == added);
    CHECK(std::set<int>(added.begin(), added.end()).size() == added.size());
    CHECK(added.size() < session.part().passes.size());
    REQUIRE(session.news());
    CHECK(session.news()->english().find("turn it to") != std::string::npos);
    // The pass that is chosen and has no move is named, with what stands in its way.
    while (move_of_pass(session.plan(), session.view().pass) >= 0)
        screen.press_key(GLFW_KEY_PAGE_DOWN);
    REQUIRE(session.why_not(act::WeldNext{session.view().pass}));
    screen.frames(2);
    CHECK(screen.shows("chosen " + session.part().passes[static_cast<std::size_t>(session.view().pass)].name));
}

TEST_CASE("the chosen move is in sight, wherever it was chosen") {
    const Desk desk("in_sight");
    Screen screen(desk.places);
    screen.open(shipped("lift_arm.model.plan.toml"));
    const int last = static_cast<int>(screen.session.plan().moves.size()) - 1;
    screen.press_key('3');
    for (const int move : {last, 0, last / 2}) {
        screen.session.apply(act::ChooseMove{move});
        screen.frames(3);
        CHECK(screen.find("move " + std::to_string(move + 1))->in_sight);
        // A remark leads there from another bench.
        screen.press_key('5');
        screen.session.apply(act::ChooseMove{last - move});
        screen.press_key('3');
        screen.frames(3);
        CHECK(screen.find("move " + std::to_string(last - move + 1))->in_sight);
    }
}
