// When a question comes back: the SM-2 algorithm of P. A. Wozniak (1987; printed in "Optimization of learning",
// master's thesis, University of Technology in Poznan, 1990). Nothing is stored but the answers themselves: the
// schedule is worked out from them.
//   I(1) = 1 day, I(2) = 6 days, I(n) = I(n-1) EF, rounded up
//   EF' = EF + 0.1 - (5 - q)(0.08 + (5 - q) 0.02), never below 1.3, from 2.5
// A quality q below 3 starts the intervals again and leaves EF as it is.
#pragma once

#include <cstdint>
#include <span>

namespace holdtrue::lesson {

struct Answer {
    std::int64_t time_s = 0; // UNIX time
    int quality = 0;         // 0 (no idea) to 5 (perfect)
};

struct Schedule {
    int repetitions = 0; // right answers in a row
    double ease = 2.5;   // EF
    int interval_days = 0;
    std::int64_t due_s = 0; // 0: never answered, so due at once
};

// `answers` in the order of time.
Schedule schedule(std::span<const Answer> answers);

// The quality of an answer as the program sees it: right at once 5, right after long thought 4, wrong 1.
int quality(bool right, double thinking_s);

} // namespace holdtrue::lesson
