#include "app/session/plan_history.h"

#include "text/verify.h"

#include <algorithm>
#include <utility>

namespace holdtrue::app {

PlanHistory::PlanHistory(weld::Plan start) { states_.push_back({std::move(start), 0, 0, {}}); }

void PlanHistory::change(weld::Plan plan, std::string continues, const std::vector<weld::Prediction>* held) {
    const int revision = ++last_revision_;
    State next{std::move(plan), revision, revision, {}};
    if (const auto& set_aside = states_[at_].set_aside)
        next.plan.predictions = *set_aside;
    if (held)
        next.set_aside = std::exchange(next.plan.predictions, *held);
    add(std::move(next), std::move(continues));
}

void PlanHistory::predict(int gauge, weld::Sense sense) {
    State next{plan(), ++last_revision_, work(), {}};
    std::vector<weld::Prediction>& all = next.plan.predictions;
    const auto found = std::ranges::find(all, gauge, &weld::Prediction::gauge);
    if (found == all.end())
        all.push_back({gauge, sense});
    else
        found->sense = sense;
    add(std::move(next), "predictions");
}

void PlanHistory::add(State next, std::string continues) {
    states_.resize(at_ + 1);
    if (!continues.empty() && continues == gesture_ && at_ > 0)
        states_[at_] = std::move(next);
    else {
        states_.push_back(std::move(next));
        ++at_;
    }
    gesture_ = std::move(continues);
}

void PlanHistory::undo() {
    VERIFY(can_undo(), "nothing to undo");
    --at_;
    gesture_.clear();
}

void PlanHistory::redo() {
    VERIFY(can_redo(), "nothing to redo");
    ++at_;
    gesture_.clear();
}

void PlanHistory::set_hints(int hints) {
    for (State& state : states_) {
        state.plan.hints = hints;
        state.revision = ++last_revision_;
    }
    gesture_.clear();
}

void PlanHistory::set_file(const std::filesystem::path& file) {
    for (State& state : states_)
        state.plan.file = file;
}

} // namespace holdtrue::app
