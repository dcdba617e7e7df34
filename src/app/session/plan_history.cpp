#include "app/session/plan_history.h"

#include "text/verify.h"

namespace holdtrue::app {

PlanHistory::PlanHistory(weld::Plan start) { states_.push_back({std::move(start), 0}); }

void PlanHistory::change(weld::Plan plan, std::string continues) {
    states_.resize(at_ + 1);
    const State next{std::move(plan), ++last_revision_};
    if (!continues.empty() && continues == gesture_ && at_ > 0)
        states_[at_] = next;
    else {
        states_.push_back(next);
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
