// What the worker is given and what comes back: previews, the weld, its mark; and the clock of its playing.
#include "app/session/session.h"

#include <algorithm>
#include <utility>

namespace holdtrue::app {

bool Session::take_finished() {
    bool news = false;
    if (std::optional<AmongOrders> among = among_study_.take()) {
        among_orders_ = std::move(among);
        news = true;
    }
    if (marked_class_ && class_study_.take(*marked_class_)) {
        if (!marked_class_->problems.empty())
            problems_ = marked_class_->problems;
        news = true;
    }
    const bool idle = !worker_.busy(); // what is finished later is not taken yet
    if (std::optional<Finished> finished = worker_.take_finished(); finished && finished->job.exercise == exercise_) {
        take(std::move(*finished));
        news = true;
    }
    if (idle && !worker_.busy())
        word_mark();
    return news;
}

void Session::start_weld(std::shared_ptr<const weld::Outcome> simulated) {
    weld::Plan welded = plan();
    welded.hints = hints_given_; // the record may know of more than the plan
    worker_.start({exercise_, std::move(welded), history_.revision(), history_.work(), Job::Kind::weld,
                   preferences_.units, std::move(simulated)});
}

void Session::take(Finished finished) {
    const Job& job = finished.job;
    if (job.kind == Job::Kind::wording && marked_ && marked_->outcome == job.outcome) {
        marked_->units = job.units;
        if (finished.mark)
            marked_->mark = std::move(*finished.mark);
    }
    if (!finished.outcome)
        news_ = Sentence{worded("The simulation stopped: {0}"), {finished.failure}};
    else if (job.kind == Job::Kind::glance || job.kind == Job::Kind::preview) {
        preview_ = finished.outcome;
        preview_work_ = job.work;
        preview_is_rough_ = job.kind == Job::Kind::glance;
        if (preview_is_rough_) {
            preview_took_s_ = finished.took_s;
            if (preview_is_current() && !worker_.busy())
                worker_.start({exercise_, plan(), history_.revision(), history_.work(), Job::Kind::preview});
        }
    } else if (job.kind == Job::Kind::weld && finished.mark) {
        if (job.revision != history_.revision() && job.work == history_.work()) {
            start_weld(finished.outcome); // predicted, or a hint taken, while it was simulated
            return;
        }
        if (!marked_ || marked_->work != job.work)
            keep_marked();
        marked_ = Marked{finished.outcome, std::move(*finished.mark), job.revision, job.work, job.units};
        seen_.add(trainee_name(), *exercise_, finished.outcome->plan);
        view_.time_s = 0;
        view_.playing = true;
        view_.bench = Bench::weld;
        news_.reset();
        log_attempt();
    }
}

// The advice of remarks is sought in round numbers of the units, so that a mark is worded by grading its outcome anew.
void Session::word_mark() {
    if (marked_ && marked_->units != preferences_.units)
        worker_.start({exercise_,
                       {},
                       marked_->revision,
                       marked_->work,
                       Job::Kind::wording,
                       preferences_.units,
                       marked_->outcome});
}

void Session::advance(double real_s) {
    if (!view_.playing || !marked_)
        return;
    const double end_s = marked_->outcome->total_s;
    view_.time_s = std::min(view_.time_s + real_s * view_.speed, end_s);
    if (view_.time_s >= end_s)
        view_.playing = false;
}

} // namespace holdtrue::app
