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
    // Plans with marks from 10 k to below 10 k + 10, the last with 100.
    struct Ten {
        int passed = 0, not_passed = 0;
        int plans() const { return passed + not_passed; }
    };
    std::array<Ten, 10> tens{};
    int fullest_ten() const; // plans; at least 1
};
ClassSummary summary_of(const ClassMarks& marks);

// How often a remark was made, counted once per plan.
struct CommonRemark {
    text::Sentence topic;
    int plans = 0;
    double points_lost = 0; // mean over those plans
    text::Sentence example; // what to try, as one of them was told
};
std::vector<CommonRemark> common_remarks(const ClassMarks& marks); // most frequent first; what costs nothing last

// What is to be said of copies in this class: how many there are, or that orders so short tell nothing of near ones.
text::Sentence on_copies(const ClassMarks& marks);

// What is to be said of an entry beside its mark: another variant than the name draws, the same plan as another's or
// nearly, why it did not pass or could not be marked. Empty: nothing.
text::Sentence remark_on(const ClassMarks& marks, std::size_t entry);

// One row per plan; quoted as RFC 4180 asks, and safe to open in a spreadsheet or a terminal (no text is taken for a formula,
// and none steers it).
std::string class_csv(const grading::Exercise& exercise, const ClassMarks& marks);

} // namespace holdtrue::record
