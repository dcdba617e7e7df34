// Two responses of one part that are taken through the same job: the leader answers, so that all that a job decides by
// looking (shrinkage, yielding, which faces touch) is decided on it; the follower is given the same actions, levels and
// springs. Only where a spring is born free of force does the follower use its own place, for that is what "born here"
// means.
#pragma once

#include "distortion/response.h"

#include <map>

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
    int add_thermal(const Eigen::VectorXd& strain_of_node) override {
        follower_.add_thermal(strain_of_node);
        return leader_.add_thermal(strain_of_node);
    }
    void replace_thermal(int action, const Eigen::VectorXd& strain_of_node) override {
        follower_.replace_thermal(action, strain_of_node);
        leader_.replace_thermal(action, strain_of_node);
    }
    void set_level(int action, double level) override {
        follower_.set_level(action, level);
        leader_.set_level(action, level);
    }
    void fix(int row, double offset) override {
        const auto seen = seen_.find(row);
        const bool born_here = seen != seen_.end() && seen->second == offset;
        leader_.fix(row, offset);
        follower_.fix(row, born_here ? follower_.value(row) : offset);
    }
    // A job only rewrites an offset to what it is, when a weld takes over from two faces that press on each other.
    void set_offset(int row, double offset) override { leader_.set_offset(row, offset); }
    void release(int row) override {
        leader_.release(row);
        follower_.release(row);
    }
    double value(int row) override {
        const double value = answers_->value(row);
        seen_[row] = value;
        return value;
    }
    double force(int row) override { return answers_->force(row); }
    void keep() override { leader_.keep(); }
    std::vector<Eigen::VectorXd> displacements() override { return leader_.displacements(); }

private:
    Response& leader_;
    Response& follower_;
    Response* answers_;
    std::map<int, double> seen_; // the last value read of each row
};

} // namespace holdtrue::distortion::testing
