// The exercise: part + shop + limits + rubric + brief. Read from a .exercise.toml by grading/read_exercise.h.
#pragma once

#include "arc/rule_book.h"
#include "arc/shop.h"
#include "part/part.h"

#include <algorithm>
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

// Help that can be asked for, one after the other.
struct Hint {
    std::string text;
    double cost = 0; // points of the mark
};

// Items of must_pass that are neither gauge nor rule: every joint tacked before its first run; no start of a pass
// hotter than the limit.
inline constexpr const char* must_be_tacked = "tacks";
inline constexpr const char* must_stay_cool = "interpass";

struct Exercise {
    std::string name, title;
    std::filesystem::path file;
    int level = 1;                     // 1 easy to 3 hard
    int place = 99;                    // in a list, among those of its level: smallest first
    std::vector<text::Sentence> brief; // paragraphs
    std::vector<std::string> cautions;
    std::shared_ptr<const part::Part> part; // with this exercise's own tolerances put in
    std::shared_ptr<const arc::Shop> shop;
    std::shared_ptr<const arc::RuleBook> rules; // by which settings are judged
    Weights weights;
    HeatLimits heat;
    TimeLimits time;
    double pass_mark = 60; // of 100
    // Without which the exercise is not passed: names of gauges, ids of rules, or the two below.
    std::vector<std::string> must_pass;
    bool all_passes_required = true;
    std::vector<bool> joint_required; // one for each joint: whether it belongs to the task; empty: all do
    bool asks_for(int joint) const { return joint_required.empty() || joint_required[static_cast<std::size_t>(joint)]; }
    std::vector<Hint> hints;          // in the order they are given
    std::vector<std::string> lessons; // names of those that help with it
    // Which of its variants this is (grading/variant.h): 0 as written, 1 to variant_count drawn. part, shop, limits
    // and brief are those of the variant.
    int variant = 0, variant_count = 0;
    std::vector<std::string> variant_words; // what is different, one line for each aspect
};

// Whether the exercise is not passed without this item of must_pass.
inline bool must_be_met(const Exercise& exercise, const std::string& item) {
    return std::ranges::find(exercise.must_pass, item) != exercise.must_pass.end();
}
// The same for a rule: one that makes scrap must be met in every exercise.
inline bool rule_must_be_met(const Exercise& exercise, const std::string& id) {
    const arc::Rule* rule = exercise.rules->find(id);
    return (rule && rule->severity == arc::Severity::scrap) || must_be_met(exercise, id);
}

// What a rule of the exercise says.
inline text::Sentence rule_words(const Exercise& exercise, const std::string& id) {
    const arc::Rule* rule = exercise.rules->find(id);
    return rule ? text::Sentence::of_file(rule->says) : text::Sentence(id);
}

} // namespace holdtrue::grading
