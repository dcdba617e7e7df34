// The levels of a response's actions, some of which are on a ramp (response.h).
#pragma once

#include <span>
#include <utility>
#include <vector>

namespace holdtrue::distortion {

class ActionLevels {
public:
    int add() {
        levels_.push_back({});
        return static_cast<int>(levels_.size()) - 1;
    }
    double now(int action) const {
        const Level& level = levels_[static_cast<std::size_t>(action)];
        return level.value + share_ * level.step;
    }
    // An action that is on the ramp stays on it, shifted. Returns the change.
    double set(int action, double level) {
        const double change = level - now(action);
        levels_[static_cast<std::size_t>(action)].value += change;
        return change;
    }
    void begin_ramp(std::span<const std::pair<int, double>> steps) {
        for (const int action : ramped_) {
            Level& level = levels_[static_cast<std::size_t>(action)];
            level = {level.value + share_ * level.step, 0};
        }
        ramped_.clear();
        share_ = 0;
        for (const auto& [action, step] : steps)
            if (step != 0) {
                levels_[static_cast<std::size_t>(action)].step = step;
                ramped_.push_back(action);
            }
    }
    // Returns by how much the share grew; 0 where nothing is on the ramp.
    double ramp_to(double share) {
        if (ramped_.empty())
            return 0;
        return share - std::exchange(share_, share);
    }

private:
    struct Level {
        double value = 0, step = 0;
    };
    std::vector<Level> levels_;
    std::vector<int> ramped_;
    double share_ = 0;
};

} // namespace holdtrue::distortion
