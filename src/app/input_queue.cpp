#include "app/input_queue.h"

#include <algorithm>
#include <vector>

namespace holdtrue::app {

void InputQueue::feed(const std::function<void(const InputEvent&)>& take) {
    constexpr int released = 0; // GLFW_RELEASE
    std::vector<int> changed;
    bool pressed = false, clicked = false;
    while (!events_.empty()) {
        const InputEvent event = events_.front();
        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            if (std::ranges::find(changed, key->key) != changed.end() || (pressed && key->action == released))
                return;
            changed.push_back(key->key);
            pressed = pressed || key->action != released;
        }
        if (std::holds_alternative<ButtonEvent>(event)) {
            if (clicked)
                return;
            clicked = true;
        }
        events_.pop_front();
        take(event);
    }
}

} // namespace holdtrue::app
