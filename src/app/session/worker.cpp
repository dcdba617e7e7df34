#include "app/session/worker.h"

#include "distortion/condensed_store.h"
#include "grading/grade.h"
#include "text/failure.h"

#include <chrono>
#include <exception>
#include <utility>

namespace holdtrue::app {

namespace {

// What was simulated for a plan, as the outcome of one with the same work.
std::shared_ptr<const weld::Outcome> of_plan(const weld::Outcome& simulated, const weld::Plan& plan) {
    auto outcome = std::make_shared<weld::Outcome>(simulated);
    outcome->plan = plan;
    return outcome;
}

} // namespace

Worker::Worker(std::function<void()> wake)
    : wake_(std::move(wake)), thread_([this](std::stop_token stop) { run(stop); }) {}

Worker::~Worker() {
    cancel();
    thread_.request_stop();
    changed_.notify_all();
}

void Worker::start(Job job) {
    {
        const std::scoped_lock lock(mutex_);
        job_stop_.request_stop();
        waiting_ = std::move(job);
    }
    changed_.notify_all();
}

void Worker::cancel() {
    const std::scoped_lock lock(mutex_);
    job_stop_.request_stop();
    waiting_.reset();
}

std::optional<Finished> Worker::take_finished() {
    const std::scoped_lock lock(mutex_);
    return std::exchange(finished_, {});
}

bool Worker::busy() const {
    const std::scoped_lock lock(mutex_);
    return waiting_ || running_;
}

bool Worker::busy_with_weld() const {
    const std::scoped_lock lock(mutex_);
    const auto is_weld = [](const std::optional<Job>& job) { return job && job->kind == Job::Kind::weld; };
    return is_weld(waiting_) || (is_weld(running_) && !job_stop_.stop_requested());
}

double Worker::share() const { return progress_.share; }
int Worker::move() const { return progress_.move; }

void Worker::run(std::stop_token stop) {
    while (!stop.stop_requested()) {
        Job job;
        std::stop_source job_stop;
        {
            std::unique_lock lock(mutex_);
            changed_.wait(lock, stop, [this] { return waiting_.has_value(); });
            if (stop.stop_requested())
                return;
            job = std::move(*waiting_);
            waiting_.reset();
            running_ = job;
            job_stop_ = job_stop;
            progress_.share = job.outcome ? 1 : 0;
            progress_.move = job.outcome ? static_cast<int>(job.plan.moves.size()) : 0;
        }
        const auto start = std::chrono::steady_clock::now();
        Finished finished = compute(job, job_stop.get_token());
        finished.took_s = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        {
            const std::scoped_lock lock(mutex_);
            running_.reset();
            if (!job_stop.stop_requested())
                finished_ = std::move(finished);
        }
        wake_();
    }
}

Finished Worker::compute(const Job& job, std::stop_token stop) {
    Finished finished;
    finished.job = job;
    weld::Options options;
    if (job.kind == Job::Kind::glance)
        options.element_scale = 3;
    if (job.kind == Job::Kind::glance || job.kind == Job::Kind::preview) {
        options.frame_interval_s = 1e9; // the last state and the peaks are all a preview shows
        options.distortion = options.until_cold = options.sections = false;
    }
    // What a plan got wrong is found before a job is started; what is thrown here is told, and ends nothing else.
    try {
        const grading::Exercise& exercise = *job.exercise;
        if (job.outcome) {
            finished.outcome = job.kind == Job::Kind::wording ? job.outcome : of_plan(*job.outcome, job.plan);
            finished.mark = grading::grade(exercise, *finished.outcome, job.units);
            return finished;
        }
        if (options.distortion) {
            if (condensed_of_ != exercise.part || !condensed_) {
                condensed_ = weld::condense(*exercise.part, options.element_scale, stop, distortion::usual_store());
                condensed_of_ = exercise.part;
            }
            options.condensed = condensed_;
        }
        finished.outcome = weld::simulate(exercise.part, exercise.shop, job.plan, options, &progress_, stop);
        if (job.kind == Job::Kind::weld && finished.outcome->status == weld::Status::finished)
            finished.mark = grading::grade(exercise, *finished.outcome, job.units);
    } catch (const std::exception& error) {
        finished.outcome.reset();
        finished.failure = text::failure_words(error);
    }
    return finished;
}

} // namespace holdtrue::app
