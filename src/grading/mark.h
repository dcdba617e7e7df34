// The mark: a breakdown in five parts, each with the remarks that explain it, less what hints cost.
#pragma once

#include "text/sentence.h"

#include <array>
#include <string>
#include <vector>

namespace holdtrue::grading {

enum class Aspect { settings, order_and_heat, gauges, prediction, time_and_handling, help };
inline constexpr int aspect_count = 5; // those that points are given for; help only takes some off

enum class Verdict { pass, caution, fail };

// How a remark on a setting advises. To find whole cards for a bad plan takes as long as to weld it, and no points hang
// on them.
enum class Advice { whole_cards, single_dials };

// One graded finding.
struct Remark {
    Aspect aspect = Aspect::settings;
    Verdict verdict = Verdict::pass;
    int move = -1, card = -1, gauge = -1; // what it speaks of; -1: not that
    std::string rule;                     // id of the rule that it speaks of; empty: not of one
    text::Sentence topic;                 // what a class's remarks are counted by: what a rule says, a gauge, "tacks"
    text::Sentence chosen;                // "card 'seams': 21.0 V"
    text::Sentence measured;              // value with unit
    text::Sentence limit;                 // limit with unit
    text::Sentence source;                // of the limit
    text::Sentence consequence;           // what it does to the part
    text::Sentence try_this;              // one thing
    double points_lost = 0;
    bool must_be_met = false; // while it stands the exercise is not passed, whatever the points
};

struct Mark {
    double total = 0; // 0 to 100
    bool passed = false;
    text::Sentence why_not;                      // the must-pass item that failed, or empty
    std::array<double, aspect_count> reached{};  // points
    std::array<double, aspect_count> possible{}; // points
    double hint_points = 0;                      // taken off for hints, after the five parts
    std::vector<Remark> remarks;                 // what must be met first, then gravest first
};

} // namespace holdtrue::grading
