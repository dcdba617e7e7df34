#include "app/session/among_orders.h"

#include "distortion/condensed_store.h"
#include "order/exercise_problem.h"
#include "text/failure.h"

#include <exception>
#include <utility>

namespace holdtrue::app {

namespace {

constexpr int sample_size = 200, changes_tried = 200, changes_told = 3;
constexpr int threads = 2; // the window needs the rest
constexpr std::uint64_t seed = 1;

} // namespace

void AmongOrdersStudy::start(std::shared_ptr<const grading::Exercise> exercise, weld::Plan plan, int revision) {
    cancel();
    progress_.tries = 0;
    busy_ = true;
    thread_ =
        std::jthread([this, exercise = std::move(exercise), plan = std::move(plan), revision](std::stop_token stop) {
            AmongOrders found;
            try {
                found = study(*exercise, plan, stop);
            } catch (const std::exception& error) {
                found.failure = text::failure_words(error);
            }
            found.revision = revision;
            {
                const std::scoped_lock lock(mutex_);
                busy_ = false;
                if (!stop.stop_requested())
                    finished_ = std::move(found);
            }
            wake_();
        });
}

void AmongOrdersStudy::cancel() {
    if (thread_.joinable()) {
        thread_.request_stop();
        thread_.join();
    }
    const std::scoped_lock lock(mutex_);
    busy_ = false;
    finished_.reset();
}

bool AmongOrdersStudy::busy() const {
    const std::scoped_lock lock(mutex_);
    return busy_;
}

double AmongOrdersStudy::share() const { return progress_.tries / static_cast<double>(sample_size + changes_tried); }

std::optional<AmongOrders> AmongOrdersStudy::take() {
    const std::scoped_lock lock(mutex_);
    return std::exchange(finished_, {});
}

AmongOrders AmongOrdersStudy::study(const grading::Exercise& exercise, const weld::Plan& plan, std::stop_token stop) {
    AmongOrders found;
    const auto condensed =
        weld::condense(*exercise.part, 1, stop, distortion::usual_store(), weld::rehearsal_groups_per_pass);
    if (!condensed)
        return found;
    const weld::Rehearsal rehearsal(exercise.part, exercise.shop, plan, condensed, threads, {}, stop);
    if (!rehearsal.ok())
        return found;
    const order::OrderSpace space(exercise.part, plan);
    const order::Problem problem = order::exercise_problem(exercise, space, rehearsal);
    found.waits_s = space.waits_s();
    found.plan.order = order::order_as_rehearsed(space, rehearsal, plan);
    found.plan.finding = problem.make_evaluator()->evaluate(found.plan.order);
    found.plan.cost = problem.cost(found.plan.finding);
    found.sample = order::sample(problem, sample_size, threads, seed, &progress_, stop);
    found.standing = order::standing(found.plan.finding, found.sample);
    found.changes =
        order::best_changes(problem, found.plan, changes_told, changes_tried, threads, seed, &progress_, stop);
    return found;
}

} // namespace holdtrue::app
