// The five aspects of a mark, each on its own: how much of it was reached, and the remarks that explain the rest.
// A remark's points_lost is here a share of its aspect; the shares of an aspect's remarks sum to 1 - credit.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "units/quantity_text.h"
#include "weld/outcome.h"

#include <set>

namespace holdtrue::grading {

using text::Sentence;
using text::worded;

struct AspectMark {
    double credit = 1; // 0 to 1
    std::vector<Remark> remarks;
};

struct Marking {
    const Exercise& exercise;
    const weld::Outcome& outcome;
    units::System system = units::System::metric;
    Advice advice = Advice::whole_cards;

    const part::Part& part() const { return *outcome.part; }
};

// `failed_rules` collects the ids of rules that failed, for the must-pass items.
AspectMark mark_settings(const Marking& marking, std::set<std::string>& failed_rules);
AspectMark mark_order_and_heat(const Marking& marking);
AspectMark mark_gauges(const Marking& marking);
AspectMark mark_prediction(const Marking& marking);
// Credits of the other aspects, by which the time counts.
struct Quality {
    double settings = 1, order_and_heat = 1, gauges = 1;
};
AspectMark mark_time_and_handling(const Marking& marking, const Quality& quality);

// A joint with tacks in the drawing whose first run comes before its last tack, or that has none (-1).
struct LooseJoint {
    int joint = 0, first_run = 0, last_tack = -1; // moves
};
std::vector<LooseJoint> loose_joints(const Marking& marking);
double hottest_start_k(const Marking& marking); // of the places where arcs strike; 0 without welds

// Share of the required passes that were welded (by length; a plug counts as its hole), and what is missing.
struct Completeness {
    double share = 1;
    std::vector<std::string> missing; // names of passes, or of joints where not all passes are required
};
Completeness find_completeness(const Marking& marking);

// Ends advice about the order: what it does to the gauges is known only when the plan is welded again. Advice about
// settings needs no such words, the rule book has tried it.
inline Sentence not_computed(Sentence advice) {
    return {worded("{0} (not computed: weld it and see)"), {std::move(advice)}};
}

// "move 12, pass 'seam_top/3'"
Sentence name_of_move(const Marking& marking, int move);

} // namespace holdtrue::grading
