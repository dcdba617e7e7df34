#include "app/input_queue.h"

#include <algorithm>
#include <vector>

namespace holdtrue::app {

void InputQueue::feed(const std::function<void(const InputEvent&)>& take) {
    std::vector<int> changed;
    bool clicked = false;
    while (!events_.empty()) {
        const InputEvent event = events_.front();
        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            if (std::ranges::find(changed, key->key) != changed.end())
                return;
            changed.push_back(key->key);
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
