// Two responses of one part that are taken through the same job: the leader answers, so that all that a job decides by
// looking (shrinkage, yielding, which faces touch) is decided on it; the follower is given the same actions, levels and
// springs. Only where a spring is born free of force does the follower use its own place, for that is what "born here"
// means.
#pragma once

#include "distortion/response.h"

#include <array>
#include <map>
#include <set>

namespace holdtrue::distortion::testing {

class TwinResponse final : public Response {
public:
    TwinResponse(Response& leader, Response& follower) : leader_(leader), follower_(follower), answers_(&leader) {}

    // Who answers from now on; nothing else may be asked of the twin but values and forces while it is the follower.
    void answer_from(Response& of) { answers_ = &of; }

    int add_loads(std::span<const std::pair<int, double>> loads) override {
        follower_.add_loads(loads);
        return leader_.add_loads(loads);
    }
    int add_heat() override {
        follower_.add_heat();
        return leader_.add_heat();
    }
    void replace_heat(int action, const StepHeat& heat) override {
        follower_.replace_heat(action, heat);
        leader_.replace_heat(action, heat);
    }
    void set_level(int action, double level) override {
        let_go();
        follower_.set_level(action, level);
        leader_.set_level(action, level);
    }
    void begin_ramp(std::span<const std::pair<int, double>> level_steps) override {
        let_go();
        follower_.begin_ramp(level_steps);
        leader_.begin_ramp(level_steps);
    }
    void ramp_to(double share) override {
        let_go();
        follower_.ramp_to(share);
        leader_.ramp_to(share);
    }
    void tie(std::span<const int> rows, std::span<const double> offsets) override {
        leader_.tie(rows, offsets);
        for (std::size_t k = 0; k < rows.size(); ++k)
            follow(rows[k], offsets[k]);
    }
    void fix(std::span<const int> rows, std::span<const double> offsets) override {
        leader_.fix(rows, offsets);
        for (std::size_t k = 0; k < rows.size(); ++k)
            follow(rows[k], offsets[k]);
    }
    void release(std::span<const int> rows) override {
        leader_.release(rows);
        released_.insert(rows.begin(), rows.end());
    }
    std::vector<double> values(std::span<const int> rows, Asked asked) override {
        let_go();
        std::vector<double> values = answers_->values(rows, asked);
        for (std::size_t k = 0; k < rows.size(); ++k)
            seen_[rows[k]] = values[k];
        return values;
    }
    double force(int row) override { return answers_->force(row); }
    void keep() override { leader_.keep(); }
    std::vector<Eigen::VectorXd> displacements() override { return leader_.displacements(); }

private:
    void follow(int row, double offset) {
        // A weld takes over where two faces press on each other: their spring goes on as it is.
        if (released_.erase(row) > 0)
            return;
        const auto seen = seen_.find(row);
        const bool born_here = seen != seen_.end() && seen->second == offset;
        follower_.fix(std::array{row}, std::array{born_here ? follower_.value(row) : offset});
    }
    void let_go() {
        follower_.release(std::vector<int>(released_.begin(), released_.end()));
        released_.clear();
    }

    Response& leader_;
    Response& follower_;
    Response* answers_;
    std::map<int, double> seen_; // the last value read of each row
    std::set<int> released_;     // rows that the follower has yet to let go
};

} // namespace holdtrue::distortion::testing
