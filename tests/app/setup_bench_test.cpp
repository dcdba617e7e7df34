// The bench Setup: fields and their steps, numbers that are typed, rules that are opened.
#include "screen.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace holdtrue;
using namespace holdtrue::app;
using app::test::Desk;
using app::test::Screen;
using app::test::shipped;
using app::test::framed;

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
