// The plan under work with all its earlier and later states: undo and redo without limit. Every state has a number of
// its own, by which the session knows whether a mark or a file still belongs to what is on the bench; and the number
// of its work, by which it knows whether what was simulated does.
#pragma once

#include "weld/plan.h"

#include <optional>
#include <vector>

namespace holdtrue::app {

class PlanHistory {
public:
    explicit PlanHistory(weld::Plan start = {});

    const weld::Plan& plan() const { return states_[at_].plan; }
    int revision() const { return states_[at_].revision; }
    // Cards and moves, which are all that is simulated: a change of predictions or hints leaves it the same.
    int work() const { return states_[at_].work; }

    // `continues` names the gesture a change belongs to (dragging one slider); changes of the same gesture that follow
    // each other are one step back. Empty: a step of its own. `held`: what the plan predicts, whatever was predicted
    // since; that comes back with the next change.
    void change(weld::Plan plan, std::string continues = {}, const std::vector<weld::Prediction>* held = nullptr);
    // Which way a gauge will go; predictions that follow each other are one step back.
    void predict(int gauge, weld::Sense sense);
    bool can_undo() const { return at_ > 0; }
    bool can_redo() const { return at_ + 1 < states_.size(); }
    void undo();
    void redo();
    // Hints that were given stay given, whatever is undone. Every state becomes another plan by it, with a revision of
    // its own.
    void set_hints(int hints);
    void set_file(const std::filesystem::path& file); // where the plan is kept is no part of its history

private:
    struct State {
        weld::Plan plan;
        int revision = 0, work = 0;
        std::optional<std::vector<weld::Prediction>> set_aside; // predictions, for those held
    };
    void add(State next, std::string continues);

    std::vector<State> states_;
    std::size_t at_ = 0;
    int last_revision_ = 0;
    std::string gesture_;
};

} // namespace holdtrue::app
