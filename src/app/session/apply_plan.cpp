// The plan: every change is a state of its history.
#include "app/session/applier.h"
#include "weld/choose_card.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

weld::Wait wait(double time_s, double until_below_k) {
    weld::Wait wait;
    wait.time_s = time_s;
    if (until_below_k > 0)
        wait.until_below_k = until_below_k;
    return wait;
}

} // namespace

void Session::Applier::add(const weld::Move& move, int at) const {
    weld::Plan next = plan();
    const int count = static_cast<int>(next.moves.size()), place = at < 0 ? count : std::min(at, count);
    next.moves.insert(next.moves.begin() + place, move);
    session.change_plan(std::move(next));
    session.choose_move(place);
}

void Session::Applier::operator()(const act::Undo&) const {
    session.history_.undo();
    session.plan_changed();
}

void Session::Applier::operator()(const act::Redo&) const {
    session.history_.redo();
    session.plan_changed();
}

void Session::Applier::operator()(const act::WeldNext& action) const {
    const int already = move_of_pass(session.plan(), action.pass);
    if (already >= 0)
        return session.apply(act::ReverseMove{already});
    add({weld::WeldPass{action.pass, false, session.card_for(action.pass)}, 0}, -1);
}

void Session::Applier::operator()(const act::ReverseMove& action) const {
    weld::Plan next = plan();
    auto& weld = std::get<weld::WeldPass>(next.moves[Index(action.move)].what);
    weld.reversed = !weld.reversed;
    session.change_plan(std::move(next));
}

void Session::Applier::operator()(const act::RemoveMove& action) const {
    weld::Plan next = plan();
    next.moves.erase(next.moves.begin() + action.move);
    // The same move stays chosen; if it is the one that goes, the next, or the last.
    const int chosen = session.view_.move - (session.view_.move > action.move ? 1 : 0);
    const int last = static_cast<int>(next.moves.size()) - 1;
    session.change_plan(std::move(next));
    session.choose_move(std::min(chosen, last));
}

void Session::Applier::operator()(const act::ShiftMove& action) const {
    weld::Plan next = plan();
    shift_move(next, Index(action.from), Index(action.to));
    session.change_plan(std::move(next));
    session.choose_move(action.to);
}

void Session::Applier::operator()(const act::AddWait& action) const {
    add({wait(action.time_s, action.until_below_k), 0}, action.at);
}

void Session::Applier::operator()(const act::WaitBeforeRuns& action) const {
    weld::Plan next = plan();
    wait_before_runs(session.part(), next, wait(action.time_s, action.until_below_k));
    session.change_plan(std::move(next));
}

void Session::Applier::operator()(const act::SetWait& action) const {
    weld::Plan next = plan();
    next.moves[Index(action.move)].what = wait(action.time_s, action.until_below_k);
    session.change_plan(std::move(next), "wait " + std::to_string(action.move));
}

void Session::Applier::operator()(const act::AddTurn& action) const { add({weld::Turn{action.pose}, 0}, action.at); }

void Session::Applier::operator()(const act::AddClamp& action) const {
    add({weld::ClampMove{action.clamp, action.fix}, 0}, action.at);
}

void Session::Applier::operator()(const act::LayOut& action) const {
    weld::Plan next = plan();
    append_welds(session.part(), next, laid_out(session.part(), next, action.joints, action.kind, action.pattern));
    session.change_plan(std::move(next));
    session.choose_move(static_cast<int>(session.plan().moves.size()) - 1);
}

void Session::Applier::operator()(const act::ClearMoves&) const {
    weld::Plan next = plan();
    next.moves.clear();
    session.change_plan(std::move(next));
}

void Session::Applier::operator()(const act::SetMoveCard& action) const {
    weld::Plan next = plan();
    if (auto* weld = std::get_if<weld::WeldPass>(&next.moves[Index(action.move)].what))
        weld->card = action.card;
    session.change_plan(std::move(next));
}

void Session::Applier::operator()(const act::ChangeCard& action) const {
    weld::Plan next = plan();
    next.cards[Index(action.card)] = action.value;
    session.change_plan(std::move(next), "card " + std::to_string(action.card) + " " + action.field);
}

void Session::Applier::operator()(const act::AddCard& action) const {
    weld::Plan next = plan();
    arc::SettingCard card =
        next.cards.empty() ? fresh_plan(session.exercise(), {}).cards.front() : next.cards[Index(session.view_.card)];
    card.name = action.group;
    card.groups = {action.group};
    // What the new card serves, no other card serves any more.
    for (arc::SettingCard& other : next.cards)
        if (other.groups.size() > 1)
            std::erase(other.groups, action.group);
    next.cards.push_back(std::move(card));
    for (weld::Move& move : next.moves)
        if (auto* weld = std::get_if<weld::WeldPass>(&move.what))
            weld->card = std::max(weld::choose_card(session.part(), weld->pass, next.cards), 0);
    session.change_plan(std::move(next));
    (*this)(act::ChooseCard{static_cast<int>(session.plan().cards.size()) - 1});
}

void Session::Applier::operator()(const act::Predict& action) const {
    session.history_.predict(action.gauge, action.sense);
    session.plan_changed();
}

void Session::Applier::operator()(const act::TakeHint&) const {
    session.guarded([&] {
        int hints = session.plan().hints;
        session.logbook_.take_hint(session.exercise(), hints, session.plan_is_own());
        session.history_.set_hints(hints);
        session.count_hints();
        session.plan_changed();
    });
}

} // namespace holdtrue::app
