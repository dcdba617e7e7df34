// What a marked class comes to: figures, remarks made most often, the table for a spreadsheet. Readers of ClassMarks; a
// class that is still being marked can be summed up as far as it has come.
#pragma once

#include "record/class_marking.h"

#include <array>
#include <string>
#include <vector>

namespace holdtrue::record {

struct ClassSummary {
    int plans = 0, marked = 0, passed = 0, not_marked = 0; // not_marked: with a problem
    double mean = 0, middle = 0, lowest = 0, highest = 0;  // marks; 0 while none is marked
    std::array<int, 10> tens{};                            // [k]: marks from 10 k to below 10 k + 10; the last with 100
};
ClassSummary summary_of(const ClassMarks& marks);

// How often a remark was made, counted once per plan.
struct CommonRemark {
    text::Sentence topic;
    int plans = 0;
    double points_lost = 0; // mean over those plans
    text::Sentence example; // what to try, as one of them was told
};
std::vector<CommonRemark> common_remarks(const ClassMarks& marks); // most frequent first

// What is to be said of an entry beside its mark: another variant than the name draws, the same plan as another's, why
// it did not pass or could not be marked. Empty: nothing.
text::Sentence remark_on(const ClassMarks& marks, std::size_t entry);

// One row per plan; quoted as RFC 4180 asks, and safe to open in a spreadsheet (no text is taken for a formula).
std::string class_csv(const grading::Exercise& exercise, const ClassMarks& marks);

} // namespace holdtrue::record
