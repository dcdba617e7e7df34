// Where the welded plan stands among random orders, and which single change would help it: worked out on a thread of
// its own, because it takes a minute and nobody should wait for it.
#pragma once

#include "grading/exercise.h"
#include "order/standing.h"
#include "weld/plan.h"

#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace holdtrue::app {

struct AmongOrders {
    int revision = -1; // of the plan
    order::Candidate plan;
    std::vector<order::Candidate> sample;
    order::Standing standing;
    std::vector<order::SingleChange> changes;
    std::vector<double> waits_s; // what SingleChange::to means for a wait
    text::Sentence failure;      // why there is nothing of the above
};

class AmongOrdersStudy {
public:
    // `wake` is called on the study's thread now and then, and when there is news.
    explicit AmongOrdersStudy(std::function<void()> wake) : wake_(std::move(wake)) {}
    ~AmongOrdersStudy() { cancel(); }

    void start(std::shared_ptr<const grading::Exercise> exercise, weld::Plan plan, int revision);
    void cancel(); // waits until the study's thread has ended
    bool busy() const;
    double share() const; // done, 0 to 1
    std::optional<AmongOrders> take();

private:
    AmongOrders study(const grading::Exercise& exercise, const weld::Plan& plan, std::stop_token stop);

    std::function<void()> wake_;
    mutable std::mutex mutex_;
    bool busy_ = false;
    std::optional<AmongOrders> finished_;
    order::SearchProgress progress_;
    std::jthread thread_;
};

} // namespace holdtrue::app
