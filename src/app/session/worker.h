// Runs simulations off the window's thread. One job at a time; a new one cancels the one under way. The window takes
// a finished result once per frame and never waits.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "weld/simulate.h"

#include <condition_variable>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace holdtrue::app {

struct Job {
    enum class Kind {
        glance, // its heat alone, on a coarse mesh: next to a bead it is too cool, for the heat is spread over elements
        preview, // its heat alone
        weld,    // all of it, and the mark; of an outcome that is there already, the mark by this plan
        wording  // the mark of an outcome that is there already, in other units
    };
    std::shared_ptr<const grading::Exercise> exercise;
    weld::Plan plan;
    int revision = 0, work = 0; // of the plan (plan_history.h)
    Kind kind = Kind::weld;
    units::System units = units::System::metric; // of the mark's remarks
    std::shared_ptr<const weld::Outcome> outcome = nullptr; // of the plan's work, if it is simulated already
};

struct Finished {
    Job job;
    std::shared_ptr<const weld::Outcome> outcome; // null when it could not be computed
    std::optional<grading::Mark> mark;
    text::Sentence failure; // why not
    double took_s = 0;      // from the start of the job
};

class Worker {
public:
    // `wake` is called on the worker's thread when there is news (and now and then while a job runs).
    explicit Worker(std::function<void()> wake);
    ~Worker(); // cancels and joins

    void start(Job job);
    void cancel();
    std::optional<Finished> take_finished();

    bool busy() const;
    bool busy_with_weld() const; // and no preview; one that was cancelled may still be on its way out
    double share() const;        // done of the job under way, 0 to 1
    int move() const;

private:
    void run(std::stop_token stop);
    Finished compute(const Job& job, std::stop_token stop);

    std::function<void()> wake_;
    mutable std::mutex mutex_;
    std::condition_variable_any changed_;
    std::optional<Job> waiting_;
    std::optional<Job> running_;
    std::stop_source job_stop_;
    std::optional<Finished> finished_;
    weld::Progress progress_;
    // Of the part that was welded last, for the next weld of it; the worker's thread only.
    std::shared_ptr<const part::Part> condensed_of_;
    std::shared_ptr<const distortion::CondensedPart> condensed_;
    std::jthread thread_; // last: starts when all else is there
};

} // namespace holdtrue::app
