// What each action does to the session, one overload per action; each may count on why_not() having said that it is
// possible. Defined by concept: apply_files.cpp, apply_plan.cpp, apply_class.cpp, apply_view.cpp, and the rest in
// session_apply.cpp.
#pragma once

#include "app/session/session.h"

namespace holdtrue::app {

struct Session::Applier {
    Session& session;

    using Index = std::size_t;
    weld::Plan plan() const { return session.history_.plan(); } // to be changed
    void add(const weld::Move& move,
             int at) const; // as number `at` of the plan, below 0 as the last; it is then chosen
    template <class Value>
    void prefer(Value Preferences::*what, const Value& value) const;

    // Files
    void operator()(const act::Open&) const;
    void operator()(const act::Save&) const;
    void operator()(const act::SaveAs&) const;
    void operator()(const act::HandIn&) const;
    void operator()(const act::NewPlan&) const;
    void operator()(const act::LookInto&) const;
    void operator()(const act::Recover&) const;
    void operator()(const act::ForgetRecovery&) const;
    void operator()(const act::DismissProblems&) const;
    void operator()(const act::Quit&) const;
    void operator()(const act::GoOn&) const;
    void operator()(const act::StayOpen&) const;

    // The plan
    void operator()(const act::Undo&) const;
    void operator()(const act::Redo&) const;
    void operator()(const act::WeldNext&) const;
    void operator()(const act::ReverseMove&) const;
    void operator()(const act::RemoveMove&) const;
    void operator()(const act::ShiftMove&) const;
    void operator()(const act::AddWait&) const;
    void operator()(const act::WaitBeforeRuns&) const;
    void operator()(const act::SetWait&) const;
    void operator()(const act::AddTurn&) const;
    void operator()(const act::AddClamp&) const;
    void operator()(const act::LayOut&) const;
    void operator()(const act::ClearMoves&) const;
    void operator()(const act::SetMoveCard&) const;
    void operator()(const act::ChangeCard&) const;
    void operator()(const act::AddCard&) const;
    void operator()(const act::Predict&) const;
    void operator()(const act::TakeHint&) const;

    // The simulation
    void operator()(const act::StartWeld&) const;
    void operator()(const act::CancelWeld&) const;
    void operator()(const act::CompareOrders&) const;
    void operator()(const act::StopComparing&) const;
    void operator()(const act::TryAgain&) const;

    // Beside the job
    void operator()(const act::AddTrainee&) const;
    void operator()(const act::ChooseTrainee&) const;
    void operator()(const act::ShowRecordPage&) const;
    void operator()(const act::OpenAttempt&) const;
    void operator()(const act::ChooseClass&) const;
    void operator()(const act::MarkClass&) const;
    void operator()(const act::StopMarking&) const;
    void operator()(const act::OpenClassPlan&) const;
    void operator()(const act::SaveClassTable&) const;
    void operator()(const act::SaveClassReport&) const;
    void operator()(const act::Answer&) const;
    void operator()(const act::ProposeQuick&) const;
    void operator()(const act::QuickCheck&) const;

    // The view
    void operator()(const act::ShowBench&) const;
    void operator()(const act::Play&) const;
    void operator()(const act::Pause&) const;
    void operator()(const act::SetTime&) const;
    void operator()(const act::StepMove&) const;
    void operator()(const act::SetSpeed&) const;
    void operator()(const act::ShowField&) const;
    void operator()(const act::SetExaggeration&) const;
    void operator()(const act::LookFrom&) const;
    void operator()(const act::Fit&) const;
    void operator()(const act::SetCamera&) const;
    void operator()(const act::TurnView&) const;
    void operator()(const act::ShiftView&) const;
    void operator()(const act::ComeNearer&) const;
    void operator()(const act::ChoosePass&) const;
    void operator()(const act::ChooseOpenPass&) const;
    void operator()(const act::ChooseMove&) const;
    void operator()(const act::ChooseGauge&) const;
    void operator()(const act::ChooseCard&) const;
    void operator()(const act::ChooseJoint&) const;
    void operator()(const act::FollowRemark&) const;
    void operator()(const act::Probe&) const;
    void operator()(const act::ProbePass&) const;
    void operator()(const act::ShowChart&) const;
    void operator()(const act::ClearProbe&) const;
    void operator()(const act::Toggle&) const;

    // Preferences
    void operator()(const act::SetLanguage&) const;
    void operator()(const act::SetUnits&) const;
    void operator()(const act::SetShade&) const;
    void operator()(const act::SetScale&) const;
    void operator()(const act::SetWindowSize&) const;
};

} // namespace holdtrue::app
