// Keys, characters and mouse buttons as the window system tells of them, handed to the widgets over as many frames as
// they need. The widgets look at a key or a button once a frame: one that goes down and up between two frames, as a
// quick finger does it on a slow machine, would never have been pressed, and a click would land where the pointer has
// gone since. For one thread.
#pragma once

#include <deque>
#include <functional>
#include <variant>

namespace holdtrue::app {

struct KeyEvent {
    int key = 0, scancode = 0, action = 0, modifiers = 0; // as GLFW has them
};
struct CharacterEvent {
    unsigned int code_point = 0;
};
struct ButtonEvent {
    int button = 0;
    bool down = false;
    float x = 0, y = 0; // of the pointer, in the window
};
using InputEvent = std::variant<KeyEvent, CharacterEvent, ButtonEvent>;

class InputQueue {
public:
    void add(const InputEvent& event) { events_.push_back(event); }
    bool empty() const { return events_.empty(); }
    // Gives out, in their order, what one frame can take in: no key changes twice in it, none goes up when another has
    // gone down (the chord would lose its modifier), and one button at most. What is left waits for the next frame.
    void feed(const std::function<void(const InputEvent&)>& take);

private:
    std::deque<InputEvent> events_;
};

} // namespace holdtrue::app
