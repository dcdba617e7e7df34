// Keys reach the widgets however quick a finger is and however slow a frame.
#include "app/key_queue.h"
#include "screen.h"

#include <doctest/doctest.h>

using namespace holdtrue::app;
using holdtrue::app::test::Desk;
using holdtrue::app::test::Screen;

namespace {

// As GLFW tells of a key that goes down and up, with the modifiers of that moment.
void tap(KeyQueue& keys, int key, int modifiers = 0) {
    keys.add(KeyEvent{key, 0, GLFW_PRESS, modifiers});
    keys.add(KeyEvent{key, 0, GLFW_RELEASE, modifiers});
}

// What the window does with the queue before a frame (GLFW's callback of the widget library sets these too).
void frame(Screen& screen, KeyQueue& keys) {
    ImGuiIO& io = ImGui::GetIO();
    keys.feed([&](const KeyboardEvent& event) {
        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            io.KeysDown[key->key] = key->action != GLFW_RELEASE;
            io.KeyCtrl = io.KeysDown[GLFW_KEY_LEFT_CONTROL];
        } else
            io.AddInputCharacter(std::get<CharacterEvent>(event).code_point);
    });
    screen.frame();
}

} // namespace

TEST_CASE("a frame is given each key once, the rest follows in order") {
    KeyQueue keys;
    tap(keys, GLFW_KEY_A);
    keys.add(CharacterEvent{'a'});
    tap(keys, GLFW_KEY_A);
    std::vector<int> taken_per_frame, actions;
    while (!keys.empty()) {
        int taken = 0;
        keys.feed([&](const KeyboardEvent& event) {
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
    KeyQueue keys;
    tap(keys, GLFW_KEY_3);
    tap(keys, GLFW_KEY_PAGE_DOWN);
    tap(keys, GLFW_KEY_PAGE_DOWN);
    tap(keys, GLFW_KEY_A);
    keys.add(KeyEvent{GLFW_KEY_LEFT_CONTROL, 0, GLFW_PRESS, 0});
    tap(keys, GLFW_KEY_Z, GLFW_MOD_CONTROL);
    keys.add(KeyEvent{GLFW_KEY_LEFT_CONTROL, 0, GLFW_RELEASE, 0});
    tap(keys, GLFW_KEY_4);
    for (int k = 0; k < 20; ++k)
        frame(screen, keys);
    CHECK(keys.empty());
    CHECK(screen.session.view().pass == 1); // two steps on from none
    CHECK(screen.session.plan().moves.empty());
    CHECK(screen.session.can_redo()); // the pass was added and taken back
    CHECK(screen.session.view().bench == Bench::weld);
}
