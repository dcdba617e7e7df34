// The exercise: part + shop + limits + rubric + brief. Read from a .exercise.toml by grading/read_exercise.h.
#pragma once

#include "arc/rule_book.h"
#include "arc/shop.h"
#include "part/part.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::grading {

// Shares of the mark; they sum to 100.
struct Weights {
    double settings = 25, order_and_heat = 25, gauges = 30, prediction = 10, time_and_handling = 10;
};

struct HeatLimits {
    double interpass_max_k = 523.15;
    std::string interpass_source;
    double even_heat_max_k =
        0; // largest allowed difference of mean temperature between the part's halves; 0: not graded
};

struct TimeLimits {
    double good_s = 0, slow_s = 0; // full marks up to good, none from slow on
    int turns_good = 0, turns_many = 0;
};

struct Exercise {
    std::string name, title;
    std::filesystem::path file;
    int level = 1;                  // 1 easy to 3 hard
    std::vector<std::string> brief; // paragraphs
    std::vector<std::string> cautions;
    std::shared_ptr<const part::Part> part; // with this exercise's own tolerances put in
    std::shared_ptr<const arc::Shop> shop;
    std::shared_ptr<const arc::RuleBook> rules; // by which settings are judged
    Weights weights;
    HeatLimits heat;
    TimeLimits time;
    double pass_mark = 60;              // of 100
    std::vector<std::string> must_pass; // names of gauges or rule ids without which the exercise is not passed
    bool all_passes_required = true;
};

} // namespace holdtrue::grading
