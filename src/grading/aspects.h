// The five aspects of a mark, each on its own: how much of it was reached, and the remarks that explain the rest.
// A remark's points_lost is here a share of its aspect; the shares of an aspect's remarks sum to 1 - credit.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "units/quantity_text.h"
#include "weld/outcome.h"

#include <set>

namespace holdtrue::grading {

struct AspectMark {
    double credit = 1; // 0 to 1
    std::vector<Remark> remarks;
};

struct Marking {
    const Exercise& exercise;
    const weld::Outcome& outcome;
    units::System system = units::System::metric;

    const part::Part& part() const { return *outcome.part; }
};

// `failed_rules` collects the ids of rules that failed, for the must-pass items.
AspectMark mark_settings(const Marking& marking, std::set<std::string>& failed_rules);
AspectMark mark_order_and_heat(const Marking& marking);
AspectMark mark_gauges(const Marking& marking);
AspectMark mark_prediction(const Marking& marking);
AspectMark mark_time_and_handling(const Marking& marking, double gauge_credit);

// Share of the required passes that were welded (by length; a plug counts as its hole), and what is missing.
struct Completeness {
    double share = 1;
    std::vector<std::string> missing; // names of passes, or of joints where not all passes are required
};
Completeness find_completeness(const Marking& marking);

// "move 12, pass 'seam_top/3'"
std::string name_of_move(const Marking& marking, int move);

} // namespace holdtrue::grading
