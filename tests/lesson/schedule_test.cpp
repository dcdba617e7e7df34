#include "lesson/schedule.h"

#include <doctest/doctest.h>

#include <vector>

using namespace holdtrue::lesson;

namespace {

constexpr std::int64_t day = 86400;

// Answers given on the day each falls due.
std::vector<Answer> on_time(const std::vector<int>& qualities) {
    std::vector<Answer> answers;
    std::int64_t now = 1'000'000'000;
    for (const int quality : qualities) {
        answers.push_back({now, quality});
        now = schedule(answers).due_s;
    }
    return answers;
}

std::vector<int> intervals(const std::vector<int>& qualities) {
    const std::vector<Answer> answers = on_time(qualities);
    std::vector<int> days;
    for (std::size_t k = 1; k <= answers.size(); ++k)
        days.push_back(schedule(std::span(answers).first(k)).interval_days);
    return days;
}

} // namespace

// Wozniak 1990: I(1) = 1, I(2) = 6, then times EF, rounded up. Quality 4 leaves EF at 2.5. The row 1, 6, 15, 38 is
// the one that descriptions of SM-2 print for EF = 2.5.
TEST_CASE("intervals of SM-2 at its starting ease") { CHECK(intervals({4, 4, 4, 4}) == std::vector{1, 6, 15, 38}); }

// The change of EF for each quality, from Wozniak's formula: +0.10, 0, -0.14 for 5, 4, 3.
TEST_CASE("ease follows the quality of the answers") {
    CHECK(schedule(on_time({5})).ease == doctest::Approx(2.60));
    CHECK(schedule(on_time({4})).ease == doctest::Approx(2.50));
    CHECK(schedule(on_time({3})).ease == doctest::Approx(2.36));
    CHECK(schedule(on_time(std::vector<int>(30, 3))).ease == doctest::Approx(1.3)); // its floor
}

TEST_CASE("a wrong answer starts the intervals again and keeps the ease") {
    const Schedule before = schedule(on_time({5, 5, 5}));
    const Schedule after = schedule(on_time({5, 5, 5, 1}));
    CHECK(after.repetitions == 0);
    CHECK(after.interval_days == 1);
    CHECK(after.ease == before.ease);
    CHECK(intervals({5, 5, 5, 1, 5, 5}) == std::vector{1, 6, 17, 1, 1, 6}); // 6 * 2.7 = 16.2
}

TEST_CASE("due an interval after the last answer, never answered is due at once") {
    CHECK(schedule({}).due_s == 0);
    const std::vector<Answer> two{{1000, 5}, {5000, 5}};
    CHECK(schedule(two).due_s == 5000 + 6 * day);
}

TEST_CASE("a long row of right answers stays a sensible number of days") {
    CHECK(schedule(on_time(std::vector<int>(200, 5))).interval_days == 3650);
}

TEST_CASE("long thought counts as hesitation") {
    CHECK(quality(true, 10) == 5);
    CHECK(quality(true, 100) == 4);
    CHECK(quality(false, 1) < 3);
}
