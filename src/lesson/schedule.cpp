#include "lesson/schedule.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::lesson {

Schedule schedule(std::span<const Answer> answers) {
    constexpr int longest_days = 3650; // keeps a long row of right answers within an int and a working life
    Schedule now;
    for (const Answer& answer : answers) {
        if (answer.quality >= 3) {
            now.interval_days = now.repetitions == 0   ? 1
                                : now.repetitions == 1 ? 6
                                                       : static_cast<int>(std::ceil(now.interval_days * now.ease));
            now.interval_days = std::min(now.interval_days, longest_days);
            ++now.repetitions;
            const double missing = 5 - answer.quality;
            now.ease = std::max(1.3, now.ease + 0.1 - missing * (0.08 + missing * 0.02));
        } else {
            now.repetitions = 0;
            now.interval_days = 1;
        }
        now.due_s = answer.time_s + std::int64_t{86400} * now.interval_days;
    }
    return now;
}

int quality(bool right, double thinking_s) {
    constexpr double hesitates_after_s = 60; // our own choice: time to read a question and work a small sum
    return !right ? 1 : thinking_s <= hesitates_after_s ? 5 : 4;
}

} // namespace holdtrue::lesson
