// Whose outcome has been seen: a prediction for the same work would come after the answer, however the plan has come
// back to it. The work is known by its contents, cards and moves, not by where it stands in a history.
#pragma once

#include "grading/exercise.h"
#include "weld/plan.h"

#include <string>
#include <vector>

namespace holdtrue::app {

class SeenOutcomes {
public:
    // By a trainee (empty: nobody has said who is at the bench). What was predicted when it was first seen stays.
    void add(const std::string& trainee, const grading::Exercise& exercise, const weld::Plan& plan);
    // What had been predicted when this work's outcome was seen; null: it has not been.
    const std::vector<weld::Prediction>* predictions(const std::string& trainee, const grading::Exercise& exercise,
                                                     const weld::Plan& plan) const;
    // Whoever says a name has seen what was seen before anybody did.
    void give_name(const std::string& trainee);
    void forget(const std::filesystem::path& exercise); // it has become another one

private:
    struct Seen {
        std::string trainee;
        std::filesystem::path exercise;
        std::optional<int> variant;
        weld::Plan plan;
    };
    std::vector<Seen> seen_;
};

} // namespace holdtrue::app
