#include "app/key_queue.h"

#include <algorithm>
#include <vector>

namespace holdtrue::app {

void KeyQueue::feed(const std::function<void(const KeyboardEvent&)>& take) {
    std::vector<int> changed;
    while (!events_.empty()) {
        const KeyboardEvent event = events_.front();
        if (const auto* key = std::get_if<KeyEvent>(&event)) {
            if (std::ranges::find(changed, key->key) != changed.end())
                return;
            changed.push_back(key->key);
        }
        events_.pop_front();
        take(event);
    }
}

} // namespace holdtrue::app
