// Keys and characters as the window system tells of them, handed to the widgets over as many frames as they need. The
// widgets look at a key once a frame: one that goes down and up between two frames, as a quick finger does it on a slow
// machine, would never have been pressed. For one thread.
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
using KeyboardEvent = std::variant<KeyEvent, CharacterEvent>;

class KeyQueue {
public:
    void add(const KeyboardEvent& event) { events_.push_back(event); }
    bool empty() const { return events_.empty(); }
    // Gives out, in their order, what one frame can take in: no key changes twice in
    // it. What is left waits for the next frame.
    void feed(const std::function<void(const KeyboardEvent&)>& take);

private:
    std::deque<KeyboardEvent> events_;
};

} // namespace holdtrue::app
