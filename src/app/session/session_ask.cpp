#include "app/session/pass_choice.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

// One overload per action that is not always possible.
struct Session::Asker {
    const Session& session;
    using Answer = std::optional<Sentence>;

    Answer needs_exercise() const {
        if (!session.has_exercise())
            return Sentence(worded("Open an exercise first."));
        return {};
    }
    Answer needs_outcome() const {
        if (!session.marked_)
            return Sentence(worded("Weld the plan first."));
        return {};
    }
    Answer needs_move(int move) const {
        if (auto why = needs_exercise())
            return why;
        if (move < 0 || move >= static_cast<int>(session.plan().moves.size()))
            return Sentence(worded("The plan has no such move."));
        return {};
    }
    Answer needs_index(int index, std::size_t count) const {
        if (auto why = needs_exercise())
            return why;
        if (index < 0 || static_cast<std::size_t>(index) >= count)
            return Sentence(worded("There is no such thing on this part."));
        return {};
    }

    // Whether a move can be made at a place of the plan; below 0: as its next one.
    Answer follows(const weld::Move& move, int at = -1) const {
        const auto problem =
            weld::obstacle(move, session.job_state_at(at), session.part(), session.plan().cards.size());
        if (!problem)
            return {};
        return Sentence{worded("{0}: {1}"), {problem->what, problem->fix}};
    }

    template <class Anything>
    Answer operator()(const Anything&) const {
        return {};
    }
    Answer operator()(const act::Save&) const { return needs_exercise(); }
    Answer operator()(const act::SaveAs&) const { return needs_exercise(); }
    Answer operator()(const act::HandIn&) const { return needs_exercise(); }
    Answer operator()(const act::NewPlan&) const { return needs_exercise(); }
    Answer operator()(const act::Recover&) const {
        if (session.question_ != Question::recover)
            return Sentence(worded("There is nothing to recover."));
        return {};
    }
    Answer operator()(const act::GoOn&) const {
        if (!session.asked_about_)
            return Sentence(worded("Nothing was asked."));
        return {};
    }
    Answer operator()(const act::Undo&) const {
        if (!session.can_undo())
            return Sentence(worded("There is nothing to undo."));
        return {};
    }
    Answer operator()(const act::Redo&) const {
        if (!session.can_redo())
            return Sentence(worded("There is nothing to redo."));
        return {};
    }
    Answer operator()(const act::WeldNext& action) const {
        if (auto why = needs_exercise())
            return why;
        if (auto why = needs_index(action.pass, session.part().passes.size()))
            return why;
        if (const int already = move_of_pass(session.plan(), action.pass); already >= 0)
            return (*this)(act::ReverseMove{already});
        return follows({weld::WeldPass{action.pass, false, session.card_for(action.pass)}, 0});
    }
    Answer operator()(const act::ReverseMove& action) const {
        if (auto why = needs_move(action.move))
            return why;
        const auto& what = session.plan().moves[static_cast<std::size_t>(action.move)].what;
        const auto* weld = std::get_if<weld::WeldPass>(&what);
        if (!weld)
            return Sentence(worded("Only a weld has a direction."));
        if (session.part().passes[static_cast<std::size_t>(weld->pass)].kind == part::PassKind::plug)
            return Sentence(worded("A plug has no direction."));
        return {};
    }
    Answer operator()(const act::RemoveMove& action) const { return needs_move(action.move); }
    Answer operator()(const act::ShiftMove& action) const {
        if (auto why = needs_move(action.from))
            return why;
        return needs_move(action.to);
    }
    Answer operator()(const act::AddWait& action) const {
        if (auto why = needs_exercise())
            return why;
        if (action.time_s <= 0 && action.until_below_k <= 0)
            return Sentence(worded("Say how long to wait, or until which temperature."));
        return {};
    }
    Answer operator()(const act::WaitBeforeRuns& action) const {
        if (auto why = (*this)(act::AddWait{action.time_s, action.until_below_k}))
            return why;
        if (runs_without_wait(session.part(), session.plan()).empty())
            return Sentence(worded("No run of the plan lacks a wait before it."));
        return {};
    }
    Answer operator()(const act::SetWait& action) const {
        if (auto why = needs_move(action.move))
            return why;
        return (*this)(act::AddWait{action.time_s, action.until_below_k});
    }
    Answer operator()(const act::AddTurn& action) const {
        if (auto why = needs_exercise())
            return why;
        if (auto why = needs_index(action.pose, session.part().poses.size()))
            return why;
        return follows({weld::Turn{action.pose}, 0}, action.at);
    }
    Answer operator()(const act::AddClamp& action) const {
        if (auto why = needs_exercise())
            return why;
        if (auto why = needs_index(action.clamp, session.part().clamps.size()))
            return why;
        return follows({weld::ClampMove{action.clamp, action.fix}, 0}, action.at);
    }
    Answer operator()(const act::LayOut& action) const {
        if (auto why = needs_exercise())
            return why;
        if (action.joints.empty())
            return Sentence(worded("Choose at least one joint."));
        for (const int joint : action.joints)
            if (auto why = needs_index(joint, session.part().joints.size()))
                return why;
        if (laid_out(session.part(), session.plan(), action.joints, action.kind, action.pattern).empty())
            return Sentence(worded("All passes of this kind are in the plan already."));
        return {};
    }
    Answer operator()(const act::ClearMoves&) const {
        if (session.plan().moves.empty())
            return Sentence(worded("The plan has no moves."));
        return {};
    }
    Answer operator()(const act::SetMoveCard& action) const {
        if (auto why = needs_move(action.move))
            return why;
        return needs_index(action.card, session.plan().cards.size());
    }
    Answer operator()(const act::ChangeCard& action) const {
        return needs_index(action.card, session.plan().cards.size());
    }
    Answer operator()(const act::AddCard& action) const {
        if (auto why = needs_exercise())
            return why;
        for (const arc::SettingCard& card : session.plan().cards)
            if (card.groups == std::vector<std::string>{action.group})
                return Sentence{worded("'{0}' has a card of its own already."), {Sentence::of_file(action.group)}};
        return {};
    }
    Answer operator()(const act::Predict& action) const {
        if (auto why = needs_exercise())
            return why;
        if (auto why = needs_index(action.gauge, session.part().gauges.size()))
            return why;
        if (session.work_is_welded())
            return Sentence(worded("The part is welded: a prediction is made before."));
        if (session.predictions_held())
            return Sentence(worded("You have seen how the part turns out with this plan: what was predicted before "
                                   "that counts."));
        return {};
    }
    Answer operator()(const act::StartWeld&) const {
        if (auto why = needs_exercise())
            return why;
        if (session.plan().moves.empty())
            return Sentence(worded("The plan has no moves yet: put passes in order first."));
        if (!session.plan_problems_.empty()) {
            const text::Problem& first = session.plan_problems_.front().told;
            return Sentence{worded("{0}: {1}"), {first.what, first.fix}};
        }
        if (session.marked_is_current())
            return Sentence(worded("This plan is welded already."));
        if (session.worker_.busy_with_weld())
            return Sentence(worded("The weld is being simulated."));
        return {};
    }
    Answer operator()(const act::TakeHint&) const {
        if (auto why = needs_exercise())
            return why;
        if (session.exercise().hints.empty())
            return Sentence(worded("This exercise has no hints."));
        if (session.hints_given() >= static_cast<int>(session.exercise().hints.size()))
            return Sentence(worded("All hints were given; the remarks on a weld cost nothing."));
        return {};
    }
    Answer needs_class() const {
        if (!session.marked_class_ || !session.marked_class_->finished)
            return Sentence(worded("Mark the class first."));
        return {};
    }
    Answer operator()(const act::MarkClass&) const {
        if (session.class_busy())
            return Sentence(worded("The class is being marked."));
        if (session.class_choice_.exercise.empty())
            return Sentence(worded("Choose the exercise that the class was given."));
        if (session.class_choice_.folder.empty())
            return Sentence(worded("Name the folder that holds the plans."));
        return {};
    }
    Answer operator()(const act::OpenAttempt& action) const {
        const auto count = static_cast<int>(session.logbook_.attempts().size());
        if (action.attempt < 0 || action.attempt >= count)
            return Sentence(worded("There is no such attempt in the record."));
        return {};
    }
    Answer operator()(const act::OpenClassPlan& action) const {
        if (!session.marked_class_ || action.entry < 0 ||
            action.entry >= static_cast<int>(session.marked_class_->marks.entries.size()))
            return Sentence(worded("There is no such plan in the class."));
        return {};
    }
    Answer operator()(const act::SaveClassTable&) const { return needs_class(); }
    Answer operator()(const act::SaveClassReport&) const { return needs_class(); }
    Answer operator()(const act::TryAgain&) const { return needs_outcome(); }
    Answer operator()(const act::CompareOrders&) const {
        if (auto why = needs_outcome())
            return why;
        if (!session.plan_problems_.empty())
            return Sentence(worded("Put the plan right first."));
        return {};
    }
    Answer operator()(const act::Play&) const { return needs_outcome(); }
    Answer operator()(const act::SetTime&) const { return needs_outcome(); }
    Answer operator()(const act::StepMove&) const { return needs_outcome(); }
    Answer operator()(const act::Fit&) const { return needs_exercise(); }
    Answer operator()(const act::ChoosePass& action) const {
        return action.pass < 0 ? Answer{}
                               : needs_index(action.pass, session.has_exercise() ? session.part().passes.size() : 0);
    }
    Answer operator()(const act::ChooseOpenPass& action) const {
        if (auto why = needs_exercise())
            return why;
        if (next_open_pass(session, action.by) >= 0)
            return {};
        const std::vector<part::Pass>& passes = session.part().passes;
        for (std::size_t p = 0; p < passes.size(); ++p)
            if (move_of_pass(session.plan(), static_cast<int>(p)) < 0)
                return (*this)(act::WeldNext{static_cast<int>(p)});
        return Sentence(worded("All passes are in the plan."));
    }
    Answer operator()(const act::ProbePass& action) const {
        return needs_index(action.pass, session.has_exercise() ? session.part().passes.size() : 0);
    }
    Answer operator()(const act::ShiftView& action) const {
        if (std::max(std::abs(action.right), std::abs(action.up)) > 1)
            return Sentence(worded("The view is shifted by its own height at most at once."));
        return needs_exercise();
    }
    Answer operator()(const act::ComeNearer& action) const {
        if (action.factor < 0.1 || action.factor > 10)
            return Sentence(worded("The view comes 0.1 to 10 times as near at once."));
        return needs_exercise();
    }
    Answer operator()(const act::ChooseMove& action) const {
        return action.move < 0 ? Answer{} : needs_move(action.move);
    }
    Answer operator()(const act::ChooseGauge& action) const {
        return action.gauge < 0 ? Answer{}
                                : needs_index(action.gauge, session.has_exercise() ? session.part().gauges.size() : 0);
    }
    Answer operator()(const act::ProposeQuick&) const {
        if (!session.quick_card_ || !session.check_shop() || !session.rule_book_)
            return Sentence(worded("No shop file was found."));
        return {};
    }
    Answer operator()(const act::FollowRemark& action) const {
        if (auto why = needs_outcome())
            return why;
        return needs_index(action.remark, session.marked_->mark.remarks.size());
    }
    Answer operator()(const act::ChooseCard& action) const {
        return needs_index(action.card, session.plan().cards.size());
    }
    Answer operator()(const act::ChooseJoint& action) const {
        return needs_index(action.joint, session.has_exercise() ? session.part().joints.size() : 0);
    }
    Answer operator()(const act::SetScale& action) const {
        if (action.scale != 0 && (action.scale < 1 || action.scale > 2.5))
            return Sentence(worded("The scale goes from 1 to 2.5."));
        return {};
    }
};

std::optional<Sentence> Session::why_not(const Action& action) const { return action.visit(Asker{*this}); }

} // namespace holdtrue::app
