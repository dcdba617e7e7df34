// The benches with real widgets and injected mouse and keys, without a window system and without OpenGL.
#include "app/shortcuts.h"
#include "app/ui/text_scale.h"
#include "screen.h"

#include <GLFW/glfw3.h>
#include <doctest/doctest.h>
#include <imgui_internal.h>

#include <chrono>
#include <fstream>
#include <set>
#include <thread>

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

TEST_CASE("the rules that a card keeps can be opened and read") {
    const Desk desk("kept_rules");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.model.plan.toml"));
    screen.click("Setup");
    const auto& findings = screen.session.card_check()->findings; // gravest first
    REQUIRE(findings.back().verdict == arc::Verdict::pass);
    CHECK_FALSE(screen.shows(findings.back().rule));
    screen.click("rules that are kept");
    screen.frames(2);
    for (const arc::Finding& finding : findings)
        CHECK_MESSAGE(screen.shows(finding.rule), finding.rule);
    screen.click("rules that are kept");
    screen.frames(2);
    CHECK_FALSE(screen.shows(findings.back().rule));
}

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

TEST_CASE("text is as large as the window has room for, and no smaller than it was made") {
    CHECK(scale_with_room({3200, 2000}) == doctest::Approx(largest_scale));
    CHECK(scale_with_room({1280, 800}) == doctest::Approx(1.2));
    CHECK(scale_with_room({2080, 800}) == doctest::Approx(1.2)); // the narrower side decides
    CHECK(scale_with_room({640, 480}) == 1);
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

TEST_CASE("the steps beside a field change the card, and the figures follow") {
    const Desk desk("setup");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.click("Setup");
    REQUIRE(screen.session.card_check());
    const double volts = screen.session.plan().cards[0].volts_v;
    const double feed = screen.session.plan().cards[0].wire_feed_m_per_s;
    const double current = screen.session.card_check()->figures.arc.current_a;
    screen.click("more Volts");
    CHECK(screen.session.plan().cards[0].volts_v > volts);
    screen.click("less Wire feed");
    CHECK(screen.session.plan().cards[0].wire_feed_m_per_s < feed);
    CHECK(screen.session.card_check()->figures.arc.current_a < current);
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
    screen.click("ann.plan.toml");
    CHECK(screen.session.view().bench == Bench::order);
    CHECK_FALSE(screen.session.plan().moves.empty());
    screen.click("Hints");
    screen.frames(2);
    screen.click("Take the next hint");
    CHECK(screen.session.hints_given() == 1);
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

namespace {

std::string framed(const Screen& screen) {
    for (const Placed& control : screen.placed)
        if (has_frame(control))
            return control.label;
    return {};
}

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
    // By itself an arrow walks.
    screen.press_key(GLFW_KEY_UP);
    screen.frames(2);
    CHECK(framed(screen) != "Add the wait");
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
}

TEST_CASE("digits typed at a framed number are typed into it, elsewhere they change the bench") {
    const Desk desk("digits");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key('2');
    for (int k = 0; k < 100 && framed(screen) != "Travel speed"; ++k)
        screen.press_key(GLFW_KEY_TAB);
    REQUIRE(framed(screen) == "Travel speed");
    for (const char digit : {'3', '4', '5'}) {
        ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(digit));
        screen.press_key(digit);
    }
    screen.frames(2);
    CHECK(screen.session.view().bench == Bench::setup);
    screen.press_key(GLFW_KEY_TAB);
    screen.frames(2);
    CHECK(screen.session.plan().cards[0].travel_m_per_s == doctest::Approx(345e-3 / 60).epsilon(1e-6));
    // A letter in every frame, as fast as it goes, and a comma for the point.
    for (int k = 0; k < 100 && framed(screen) != "Wire feed"; ++k)
        screen.press_key(GLFW_KEY_TAB);
    REQUIRE(framed(screen) == "Wire feed");
    for (const char letter : {'1', '0', ',', '5'}) {
        ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(letter));
        screen.frame();
    }
    screen.frames(2);
    screen.press_key(GLFW_KEY_TAB);
    screen.frames(2);
    CHECK(screen.session.plan().cards[0].wire_feed_m_per_s == doctest::Approx(10.5 / 60).epsilon(1e-6));
    while (framed(screen).empty() || std::ranges::find(screen.placed, framed(screen), &Placed::label)->number)
        screen.press_key(GLFW_KEY_TAB);
    screen.press_key('3');
    CHECK(screen.session.view().bench == Bench::order);
}

TEST_CASE("a number typed outside its range is told, with what was taken, until the field has another value") {
    const Desk desk("outside");
    Screen screen(desk.places);
    screen.open(shipped("tee_coupon.exercise.toml"));
    screen.press_key('2');
    const auto type = [&](const char* digits) {
        do
            screen.press_key(GLFW_KEY_TAB);
        while (framed(screen) != "Volts");
        REQUIRE(framed(screen) == "Volts");
        for (const char* digit = digits; *digit; ++digit) {
            ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(*digit));
            screen.press_key(*digit);
        }
        screen.frames(2);
        screen.press_key(GLFW_KEY_ENTER);
        screen.frames(3);
    };
    const auto volts = [&] { return screen.session.plan().cards[0].volts_v; };
    type("99");
    CHECK(volts() == screen.session.exercise().shop->sources.front().volts_high_v);
    CHECK(screen.shows("outside Volts"));
    screen.frames(10);
    CHECK(screen.shows("outside Volts"));
    screen.click("less Volts");
    screen.frames(2);
    CHECK_FALSE(screen.shows("outside Volts"));
    type("3");
    CHECK(screen.shows("outside Volts"));
    screen.press_key('Z', true);
    screen.frames(2);
    CHECK_FALSE(screen.shows("outside Volts"));
    type("20");
    CHECK(volts() == doctest::Approx(20));
    CHECK_FALSE(screen.shows("outside Volts"));
    // What Enter has ended is not typed into by the digit that leads to the next bench.
    CHECK(framed(screen) == "Volts");
    ImGui::GetIO().AddInputCharacter('3');
    screen.press_key('3');
    CHECK(screen.session.view().bench == Bench::order);
    CHECK(volts() == doctest::Approx(20));
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
