// The view: what is looked at, from where, at which time.
#include "app/session/applier.h"
#include "app/session/pass_choice.h"

#include <algorithm>

namespace holdtrue::app {

void Session::Applier::operator()(const act::ShowBench& action) const {
    session.view_.bench = action.bench;
    session.prepare_bench();
    if (action.bench != Bench::weld)
        session.view_.playing = false;
}

void Session::Applier::operator()(const act::Play&) const {
    if (session.view_.time_s >= session.marked_->outcome->total_s)
        session.view_.time_s = 0;
    session.view_.playing = true;
}

void Session::Applier::operator()(const act::Pause&) const { session.view_.playing = false; }

void Session::Applier::operator()(const act::SetTime& action) const {
    session.view_.time_s = std::clamp(action.time_s, 0.0, session.marked_->outcome->total_s);
}

void Session::Applier::operator()(const act::StepMove& action) const {
    // To the start of the next or the last move; a little past it, so that rounding does not hold the clock.
    const auto& moves = session.marked_->outcome->moves;
    double& time_s = session.view_.time_s;
    session.view_.playing = false;
    if (action.by > 0) {
        for (const weld::MoveOutcome& move : moves)
            if (move.start_s > time_s + 1e-6) {
                time_s = move.start_s;
                return;
            }
        time_s = session.marked_->outcome->total_s;
    } else {
        for (auto move = moves.rbegin(); move != moves.rend(); ++move)
            if (move->start_s < time_s - 1e-6) {
                time_s = move->start_s;
                return;
            }
        time_s = 0;
    }
}

void Session::Applier::operator()(const act::SetSpeed& action) const {
    session.view_.speed = std::clamp(action.factor, 1.0, 3600.0);
}

void Session::Applier::operator()(const act::ShowField& action) const { session.view_.field = action.field; }

void Session::Applier::operator()(const act::SetExaggeration& action) const {
    session.view_.exaggeration = std::clamp(action.factor, 0.0, 1000.0);
}

void Session::Applier::operator()(const act::LookFrom& action) const {
    scene::look_from(session.view_.camera, action.view);
    session.view_.fitted = true;
}

void Session::Applier::operator()(const act::Fit&) const { session.view_.fitted = true; }

void Session::Applier::operator()(const act::SetCamera& action) const {
    session.view_.camera = action.camera;
    session.view_.fitted = false;
    session.view_.nearer = 1;
    session.view_.shift_right = session.view_.shift_up = 0;
}

void Session::Applier::operator()(const act::TurnView& action) const {
    scene::orbit(session.view_.camera, action.dx_px, action.dy_px);
}

void Session::Applier::operator()(const act::ShiftView& action) const {
    session.view_.shift_right += action.right;
    session.view_.shift_up += action.up;
}

void Session::Applier::operator()(const act::ComeNearer& action) const { session.view_.nearer *= action.factor; }

void Session::Applier::operator()(const act::ChoosePass& action) const {
    session.view_.pass = action.pass;
    session.view_.move = action.pass < 0 ? -1 : move_of_pass(session.plan(), action.pass);
}

void Session::Applier::operator()(const act::ChooseOpenPass& action) const {
    (*this)(act::ChoosePass{next_open_pass(session, action.by)});
}

void Session::Applier::operator()(const act::ChooseMove& action) const {
    session.choose_move(action.move);
    if (action.move < 0)
        return;
    if (const auto* weld = std::get_if<weld::WeldPass>(&session.plan().moves[Index(action.move)].what))
        (*this)(act::ChooseCard{weld->card});
}

void Session::Applier::operator()(const act::ChooseGauge& action) const { session.view_.gauge = action.gauge; }

void Session::Applier::operator()(const act::ChooseCard& action) const {
    session.view_.card = action.card;
    session.check_chosen_card();
}

void Session::Applier::operator()(const act::ChooseJoint& action) const {
    session.view_.joint = action.joint;
    session.check_chosen_card();
}

void Session::Applier::operator()(const act::FollowRemark& action) const {
    const grading::Remark& remark = session.marked_->mark.remarks[Index(action.remark)];
    if (remark.gauge >= 0)
        (*this)(act::ChooseGauge{remark.gauge});
    // The plan may have been changed since.
    if (remark.move >= 0 && remark.move < static_cast<int>(session.plan().moves.size()))
        (*this)(act::ChooseMove{remark.move});
    if (remark.card >= 0 && remark.card < static_cast<int>(session.plan().cards.size()))
        (*this)(act::ChooseCard{remark.card});
    if (const auto bench = bench_of(remark))
        (*this)(act::ShowBench{*bench});
}

void Session::Applier::operator()(const act::Probe& action) const { session.view_.probe = action.place; }

void Session::Applier::operator()(const act::ProbePass& action) const {
    session.view_.probe = middle_of_pass(session.part(), *session.mesh(), action.pass);
    session.view_.chart = Chart::heat;
}

void Session::Applier::operator()(const act::ShowChart& action) const { session.view_.chart = action.chart; }

void Session::Applier::operator()(const act::ClearProbe&) const { session.view_.probe.reset(); }

void Session::Applier::operator()(const act::Toggle& action) const {
    View& view = session.view_;
    switch (action.what) {
    case act::Switch::isotherms:
        view.isotherms = !view.isotherms;
        break;
    case act::Switch::numbers:
        view.numbers = !view.numbers;
        break;
    case act::Switch::deformed:
        view.deformed = !view.deformed;
        break;
    case act::Switch::compare:
        view.compare = !view.compare;
        break;
    case act::Switch::shortcuts:
        view.shortcuts_shown = !view.shortcuts_shown;
        break;
    }
}

} // namespace holdtrue::app
