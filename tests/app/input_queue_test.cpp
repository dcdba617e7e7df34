// Keys and clicks reach the widgets however quick a finger is and however slow a frame.
#include "app/input_queue.h"
#include "screen.h"

#include <doctest/doctest.h>

using namespace holdtrue::app;
using holdtrue::app::test::Desk;
using holdtrue::app::test::Screen;

namespace {

// As GLFW tells of a key that goes down and up, with the modifiers of that moment.
void tap(InputQueue& input, int key, int modifiers = 0) {
    input.add(KeyEvent{key, 0, GLFW_PRESS, modifiers});
    input.add(KeyEvent{key, 0, GLFW_RELEASE, modifiers});
}

// What the window does with the queue before a frame (GLFW's callback of the widget library sets these too).
void frame(Screen& screen, InputQueue& input) {
    ImGuiIO& io = ImGui::GetIO();
    input.feed([&](const InputEvent& event) {
        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            io.KeysDown[key->key] = key->action != GLFW_RELEASE;
            io.KeyCtrl = io.KeysDown[GLFW_KEY_LEFT_CONTROL];
        } else if (const auto* character = std::get_if<CharacterEvent>(&event))
            io.AddInputCharacter(character->code_point);
        else {
            const auto& button = std::get<ButtonEvent>(event);
            io.MouseDown[button.button] = button.down;
            io.MousePos = {button.x, button.y};
        }
    });
    screen.frame();
}

} // namespace

TEST_CASE("a frame is given each key once, the rest follows in order") {
    InputQueue input;
    tap(input, GLFW_KEY_A);
    input.add(CharacterEvent{'a'});
    tap(input, GLFW_KEY_A);
    std::vector<int> taken_per_frame, actions;
    while (!input.empty()) {
        int taken = 0;
        input.feed([&](const InputEvent& event) {
            ++taken;
            if (const auto* key = std::get_if<KeyEvent>(&event))
                actions.push_back(key->action);
        });
        taken_per_frame.push_back(taken);
    }
    CHECK(taken_per_frame == std::vector<int>{1, 2, 1, 1});
    CHECK(actions == std::vector<int>{GLFW_PRESS, GLFW_RELEASE, GLFW_PRESS, GLFW_RELEASE});
}

TEST_CASE("taps that all fall between two frames are not lost") {
    const Desk desk("quick_keys");
    Screen screen(desk.places);
    screen.open(test::shipped("tee_coupon.exercise.toml"));
    InputQueue input;
    tap(input, GLFW_KEY_3);
    tap(input, GLFW_KEY_PAGE_DOWN);
    tap(input, GLFW_KEY_PAGE_DOWN);
    tap(input, GLFW_KEY_A);
    input.add(KeyEvent{GLFW_KEY_LEFT_CONTROL, 0, GLFW_PRESS, 0});
    tap(input, GLFW_KEY_Z, GLFW_MOD_CONTROL);
    input.add(KeyEvent{GLFW_KEY_LEFT_CONTROL, 0, GLFW_RELEASE, 0});
    tap(input, GLFW_KEY_4);
    for (int k = 0; k < 20; ++k)
        frame(screen, input);
    CHECK(input.empty());
    CHECK(screen.session.view().pass == 1); // two steps on from none
    CHECK(screen.session.plan().moves.empty());
    CHECK(screen.session.can_redo()); // the pass was added and taken back
    CHECK(screen.session.view().bench == Bench::weld);
}

TEST_CASE("a click that falls between two frames is one, at the place where it was made") {
    const Desk desk("quick_click");
    Screen screen(desk.places);
    screen.open(test::shipped("tee_coupon.exercise.toml"));
    const auto tab = screen.find("Setup");
    REQUIRE(tab != screen.placed.end());
    const float x = (tab->low.x + tab->high.x) / 2, y = (tab->low.y + tab->high.y) / 2;
    ImGui::GetIO().MousePos = {x, y + 400};
    screen.frames(2);
    InputQueue input;
    input.add(ButtonEvent{0, true, x, y});
    input.add(ButtonEvent{0, false, x, y});
    frame(screen, input);
    CHECK_FALSE(input.empty());
    CHECK(screen.session.view().bench == Bench::brief);
    frame(screen, input);
    CHECK(input.empty());
    CHECK(screen.session.view().bench == Bench::setup);
}

TEST_CASE("a quick chord is one, whichever of its keys goes up first") {
    const Desk desk("quick_chord");
    Screen screen(desk.places);
    screen.open(test::shipped("tee_coupon.exercise.toml"));
    for (const bool modifier_first : {true, false}) {
        screen.session.apply(act::WeldNext{0});
        REQUIRE_FALSE(screen.session.plan().moves.empty());
        InputQueue input;
        input.add(KeyEvent{GLFW_KEY_LEFT_CONTROL, 0, GLFW_PRESS, 0});
        frame(screen, input); // the first of the chord may come in a frame of its own
        input.add(KeyEvent{GLFW_KEY_Z, 0, GLFW_PRESS, GLFW_MOD_CONTROL});
        const int first = modifier_first ? GLFW_KEY_LEFT_CONTROL : GLFW_KEY_Z;
        input.add(KeyEvent{first, 0, GLFW_RELEASE, GLFW_MOD_CONTROL});
        input.add(KeyEvent{modifier_first ? GLFW_KEY_Z : GLFW_KEY_LEFT_CONTROL, 0, GLFW_RELEASE, 0});
        for (int k = 0; k < 4; ++k)
            frame(screen, input);
        CHECK(screen.session.plan().moves.empty());
    }
}

TEST_CASE("keys do not reach what lies behind a question") {
    const Desk desk("behind_a_question");
    Screen screen(desk.places);
    screen.open(test::shipped("tee_coupon.exercise.toml"));
    screen.session.apply(act::WeldNext{0});
    screen.session.apply(act::Quit{});
    screen.frames(3);
    REQUIRE(ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId));
    screen.press_key(GLFW_KEY_2);
    CHECK(screen.session.view().bench == Bench::brief);
    screen.click("Stay");
    screen.press_key(GLFW_KEY_2);
    CHECK(screen.session.view().bench == Bench::setup);
}
