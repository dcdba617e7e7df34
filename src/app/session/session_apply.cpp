#include "app/session/applier.h"
#include "lesson/schedule.h"

namespace holdtrue::app {

void Session::Applier::operator()(const act::StartWeld&) const {
    session.start_weld(session.work_is_welded() ? session.marked_->outcome : nullptr);
    session.view_.bench = Bench::weld;
}

void Session::Applier::operator()(const act::CancelWeld&) const { session.worker_.cancel(); }

void Session::Applier::operator()(const act::CompareOrders&) const {
    session.among_orders_.reset();
    session.among_study_.start(session.exercise_, session.plan(), session.revision());
}

void Session::Applier::operator()(const act::StopComparing&) const { session.among_study_.cancel(); }

void Session::Applier::operator()(const act::TryAgain&) const {
    const std::vector<grading::Remark>& remarks = session.marked_->mark.remarks; // gravest first
    session.view_.bench = Bench::order;
    if (!remarks.empty() && remarks.front().verdict != grading::Verdict::pass)
        (*this)(act::FollowRemark{0});
    if (session.view_.bench != Bench::setup)
        (*this)(act::ShowBench{Bench::order});
}

void Session::Applier::operator()(const act::AddTrainee& action) const {
    session.guarded([&] { session.logbook_.add_trainee(action.name); });
    session.trainee_changed();
}

void Session::Applier::operator()(const act::ChooseTrainee& action) const {
    session.guarded([&] { session.logbook_.choose_trainee(action.id); });
    session.trainee_changed();
}

void Session::Applier::operator()(const act::Answer& action) const {
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

// Takes a tenth of a second: a change that would make a window where there is none is looked for by the command line.
// Without a window it is told what stands in the way, by the rules.
void Session::Applier::operator()(const act::ProposeQuick&) const {
    const QuickCard& quick = *session.quick_card_;
    session.guarded([&] {
        arc::Proposal found = arc::propose(*session.rule_book_, quick.card, *session.check_shop(), quick.section, {},
                                           session.preferences_.units, false);
        if (found.window) {
            session.quick_card_->card = found.window->card;
            session.quick_window_ = std::move(found.window);
        } else {
            session.quick_window_.reset();
            session.news_ =
                found.conflicts.empty()
                    ? Sentence(worded("No setting meets every rule for this joint."))
                    : Sentence(worded("No setting meets every rule for this joint. At the best one: {0} {1}"),
                               {found.conflicts.front().sentence, found.conflicts.front().change});
        }
    });
    session.check_quick_card();
}

void Session::Applier::operator()(const act::QuickCheck& action) const {
    // A window is of one joint with one wire and gas; sliding about in it leaves it as it is.
    if (session.quick_card_ && !same_task(*session.quick_card_, {action.card, action.section}))
        session.quick_window_.reset();
    QuickCard next{action.card, action.section};
    // The usual aim goes with the thicknesses, until the welder sets another.
    if (session.quick_card_ && next.card.aim == session.quick_card_->card.aim &&
        next.card.aim == arc::usual_aim(session.quick_card_->section))
        next.card.aim = arc::usual_aim(next.section);
    session.quick_card_ = std::move(next);
    session.check_quick_card();
}

template <class Value>
void Session::Applier::prefer(Value Preferences::*what, const Value& value) const {
    session.preferences_.*what = value;
    session.save_preferences_now();
}

void Session::Applier::operator()(const act::SetLanguage& action) const {
    prefer(&Preferences::language, action.language);
}

// The sentences of checks carry units. Those of a mark do too, and take a second: see word_mark().
void Session::Applier::operator()(const act::SetUnits& action) const {
    prefer(&Preferences::units, action.system);
    if (session.has_exercise())
        session.check_chosen_card();
    session.check_quick_card();
}

void Session::Applier::operator()(const act::SetShade& action) const { prefer(&Preferences::shade, action.shade); }

void Session::Applier::operator()(const act::SetScale& action) const { prefer(&Preferences::scale, action.scale); }

void Session::Applier::operator()(const act::SetWindowSize& action) const {
    session.preferences_.width_px = std::clamp(action.size.width_px, least_width_px, most_width_px);
    prefer(&Preferences::height_px, std::clamp(action.size.height_px, least_height_px, most_height_px));
}

void Session::apply(const Action& action) {
    if (std::optional<Sentence> why = why_not(action)) {
        news_ = std::move(why);
        return;
    }
    news_.reset();
    action.visit(Applier{*this});
}

} // namespace holdtrue::app
