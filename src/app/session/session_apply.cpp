#include "app/session/session.h"
#include "grading/variant.h"
#include "lesson/schedule.h"
#include "weld/choose_card.h"
#include "weld/read_plan.h"

#include <algorithm>

namespace holdtrue::app {

// One overload per action; each may count on why_not() having said that it is possible.
struct Session::Applier {
    Session& session;

    using Index = std::size_t;
    weld::Plan plan() const { return session.history_.plan(); }

    // Files
    void operator()(const act::Open& action) const {
        session.guarded([&] { session.open(action.file); });
        session.watch_files();
    }
    void operator()(const act::Save&) const {
        if (session.plan().file.empty())
            session.news_ = Words{worded("Give the plan a file name first."), {}};
        else
            session.guarded([&] { session.save(session.plan().file); });
    }
    void operator()(const act::SaveAs& action) const {
        std::filesystem::path file = action.file;
        if (!file.string().ends_with(".plan.toml"))
            file += ".plan.toml";
        session.guarded([&] { session.save(file); });
    }
    void operator()(const act::NewPlan&) const { session.begin_plan(fresh_plan(session.exercise()), true); }
    void operator()(const act::Recover&) const {
        session.guarded([&] {
            const auto file = session.autosave_file();
            const auto answered = weld::exercise_of(file);
            session.open_exercise(answered, grading::read_exercise_for(answered, weld::read_heading(file)).variant);
            session.begin_plan(weld::read_plan(file, session.part(), session.shop()), false);
            session.history_.set_file({});
            session.watch_files();
        });
        session.question_ = Question::none;
    }
    void operator()(const act::ForgetRecovery&) const {
        std::error_code ignored;
        std::filesystem::remove(session.autosave_file(), ignored);
        session.question_ = Question::none;
    }
    void operator()(const act::DismissProblems&) const {
        session.not_opened_.clear();
        session.problems_.clear();
        session.news_.reset();
    }
    void operator()(const act::Quit& action) const {
        if (session.unsaved() && !session.plan().moves.empty() && !action.even_unsaved) {
            session.question_ = Question::save_before_quitting;
            return;
        }
        std::error_code ignored;
        std::filesystem::remove(session.autosave_file(), ignored);
        session.should_close_ = true;
    }
    void operator()(const act::StayOpen&) const { session.question_ = Question::none; }

    // The plan
    void operator()(const act::Undo&) const {
        session.history_.undo();
        session.plan_changed();
    }
    void operator()(const act::Redo&) const {
        session.history_.redo();
        session.plan_changed();
    }
    void operator()(const act::WeldNext& action) const {
        const int already = move_of_pass(session.plan(), action.pass);
        if (already >= 0)
            return session.apply(act::ReverseMove{already});
        weld::Plan next = plan();
        next.moves.push_back({weld::WeldPass{action.pass, false, session.card_for(action.pass)}, 0});
        session.change_plan(std::move(next));
        session.view_.pass = action.pass;
    }
    void operator()(const act::ReverseMove& action) const {
        weld::Plan next = plan();
        auto& weld = std::get<weld::WeldPass>(next.moves[Index(action.move)].what);
        weld.reversed = !weld.reversed;
        session.change_plan(std::move(next));
    }
    void operator()(const act::RemoveMove& action) const {
        weld::Plan next = plan();
        next.moves.erase(next.moves.begin() + action.move);
        session.change_plan(std::move(next));
    }
    void operator()(const act::ShiftMove& action) const {
        weld::Plan next = plan();
        shift_move(next, Index(action.from), Index(action.to));
        session.change_plan(std::move(next));
        session.view_.move = action.to;
    }
    static weld::Wait wait(double time_s, double until_below_k) {
        weld::Wait wait;
        wait.time_s = time_s;
        if (until_below_k > 0)
            wait.until_below_k = until_below_k;
        return wait;
    }
    void operator()(const act::AddWait& action) const {
        weld::Plan next = plan();
        const bool inside = action.at >= 0 && action.at < static_cast<int>(next.moves.size());
        next.moves.insert(inside ? next.moves.begin() + action.at : next.moves.end(),
                          {wait(action.time_s, action.until_below_k), 0});
        session.change_plan(std::move(next));
    }
    void operator()(const act::SetWait& action) const {
        weld::Plan next = plan();
        next.moves[Index(action.move)].what = wait(action.time_s, action.until_below_k);
        session.change_plan(std::move(next), "wait " + std::to_string(action.move));
    }
    void operator()(const act::AddTurn& action) const {
        weld::Plan next = plan();
        next.moves.push_back({weld::Turn{action.pose}, 0});
        session.change_plan(std::move(next));
    }
    void operator()(const act::AddClamp& action) const {
        weld::Plan next = plan();
        next.moves.push_back({weld::ClampMove{action.clamp, action.fix}, 0});
        session.change_plan(std::move(next));
    }
    void operator()(const act::LayOut& action) const {
        weld::Plan next = plan();
        append_welds(session.part(), next,
                     laid_out(session.part(), next, action.joints, action.kind, action.pattern));
        session.change_plan(std::move(next));
    }
    void operator()(const act::ClearMoves&) const {
        weld::Plan next = plan();
        next.moves.clear();
        session.change_plan(std::move(next));
    }
    void operator()(const act::SetMoveCard& action) const {
        weld::Plan next = plan();
        if (auto* weld = std::get_if<weld::WeldPass>(&next.moves[Index(action.move)].what))
            weld->card = action.card;
        session.change_plan(std::move(next));
    }
    void operator()(const act::ChangeCard& action) const {
        weld::Plan next = plan();
        next.cards[Index(action.card)] = action.value;
        session.change_plan(std::move(next), "card " + std::to_string(action.card) + " " + action.field);
    }
    void operator()(const act::AddCard& action) const {
        weld::Plan next = plan();
        arc::SettingCard card = next.cards.empty() ? fresh_plan(session.exercise()).cards.front()
                                                   : next.cards[Index(session.view_.card)];
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
    void operator()(const act::Predict& action) const {
        weld::Plan next = plan();
        const auto found = std::ranges::find(next.predictions, action.gauge, &weld::Prediction::gauge);
        if (found == next.predictions.end())
            next.predictions.push_back({action.gauge, action.sense});
        else
            found->sense = action.sense;
        session.change_plan(std::move(next), "predictions");
    }

    // The simulation
    void operator()(const act::StartWeld&) const {
        session.worker_.start({session.exercise_, session.plan(), session.revision(), false});
        session.view_.bench = Bench::weld;
    }
    void operator()(const act::CancelWeld&) const { session.worker_.cancel(); }
    void operator()(const act::KeepForComparison&) const { session.kept_ = session.marked_; }
    void operator()(const act::CompareOrders&) const {
        session.among_orders_.reset();
        session.among_study_.start(session.exercise_, session.plan(), session.revision());
    }
    void operator()(const act::StopComparing&) const { session.among_study_.cancel(); }
    void operator()(const act::TryAgain&) const {
        session.kept_ = session.marked_;
        session.view_.bench = Bench::order;
    }

    // Beside the job
    void operator()(const act::AddTrainee& action) const {
        session.guarded([&] { session.logbook_.add_trainee(action.name); });
    }
    void operator()(const act::ChooseTrainee& action) const {
        session.guarded([&] { session.logbook_.choose_trainee(action.id); });
    }
    void operator()(const act::Answer& action) const {
        session.guarded([&] {
            record::GivenAnswer answer;
            answer.question = action.question;
            answer.given = action.given;
            answer.right = action.right;
            answer.quality = lesson::quality(action.right, action.thinking_s);
            answer.at_ms = record::now_ms();
            answer.thinking_ms = static_cast<record::Milliseconds>(1000 * action.thinking_s);
            session.logbook_.add_answer(std::move(answer));
        });
    }
    void operator()(const act::QuickCheck& action) const {
        session.quick_card_ = QuickCard{action.card, action.section};
        session.check_quick_card();
    }

    // The view
    void operator()(const act::ShowBench& action) const {
        session.view_.bench = action.bench;
        session.prepare_bench();
        if (action.bench != Bench::weld)
            session.view_.playing = false;
    }
    void operator()(const act::Play&) const {
        if (session.view_.time_s >= session.marked_->outcome->total_s)
            session.view_.time_s = 0;
        session.view_.playing = true;
    }
    void operator()(const act::Pause&) const { session.view_.playing = false; }
    void operator()(const act::SetTime& action) const {
        session.view_.time_s = std::clamp(action.time_s, 0.0, session.marked_->outcome->total_s);
    }
    void operator()(const act::StepMove& action) const {
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
    void operator()(const act::SetSpeed& action) const { session.view_.speed = std::clamp(action.factor, 1.0, 3600.0); }
    void operator()(const act::ShowField& action) const { session.view_.field = action.field; }
    void operator()(const act::SetExaggeration& action) const {
        session.view_.exaggeration = std::clamp(action.factor, 0.0, 1000.0);
    }
    void operator()(const act::LookFrom& action) const {
        scene::look_from(session.view_.camera, action.view);
        session.view_.fitted = true;
    }
    void operator()(const act::Fit&) const { session.view_.fitted = true; }
    void operator()(const act::SetCamera& action) const {
        session.view_.camera = action.camera;
        session.view_.fitted = false;
    }
    void operator()(const act::ChoosePass& action) const { session.view_.pass = action.pass; }
    void operator()(const act::ChooseMove& action) const {
        session.view_.move = action.move;
        if (action.move < 0)
            return;
        if (const auto* weld = std::get_if<weld::WeldPass>(&session.plan().moves[Index(action.move)].what)) {
            session.view_.pass = weld->pass;
            (*this)(act::ChooseCard{weld->card});
        }
    }
    void operator()(const act::ChooseGauge& action) const { session.view_.gauge = action.gauge; }
    void operator()(const act::ChooseCard& action) const {
        session.view_.card = action.card;
        session.check_chosen_card();
    }
    void operator()(const act::ChooseJoint& action) const {
        session.view_.joint = action.joint;
        session.check_chosen_card();
    }
    void operator()(const act::Probe& action) const { session.view_.probe = action.place; }
    void operator()(const act::ClearProbe&) const { session.view_.probe.reset(); }
    void operator()(const act::Toggle& action) const {
        View& view = session.view_;
        switch (action.what) {
        case act::Switch::isotherms: view.isotherms = !view.isotherms; break;
        case act::Switch::numbers: view.numbers = !view.numbers; break;
        case act::Switch::deformed: view.deformed = !view.deformed; break;
        case act::Switch::compare: view.compare = !view.compare; break;
        case act::Switch::shortcuts: view.shortcuts_shown = !view.shortcuts_shown; break;
        }
    }

    // Preferences
    template <class Value>
    void prefer(Value Preferences::*what, const Value& value) const {
        session.preferences_.*what = value;
        session.save_preferences_now();
    }
    void operator()(const act::SetLanguage& action) const { prefer(&Preferences::language, action.language); }
    void operator()(const act::SetUnits& action) const {
        prefer(&Preferences::units, action.system);
        if (session.has_exercise())
            session.check_chosen_card(); // its sentences carry units
        session.check_quick_card();
    }
    void operator()(const act::SetShade& action) const { prefer(&Preferences::shade, action.shade); }
    void operator()(const act::SetScale& action) const { prefer(&Preferences::scale, action.scale); }
};

void Session::apply(const Action& action) {
    if (std::optional<Words> why = why_not(action)) {
        news_ = std::move(why);
        return;
    }
    news_.reset();
    std::visit(Applier{*this}, action);
}

} // namespace holdtrue::app
