#include "grading/read_exercise.h"

#include <doctest/doctest.h>

#include <numbers>

using namespace holdtrue;

namespace {
const std::filesystem::path exercises = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises";
}

TEST_CASE("an exercise brings its part, its shop and its own limits") {
    const grading::Exercise exercise = grading::read_exercise(exercises / "tee_coupon.exercise.toml");
    CHECK(exercise.level == 1);
    CHECK(exercise.part->name == "tee_coupon");
    CHECK(exercise.shop->name == "rookwood");
    CHECK(exercise.brief.size() == 3);
    const int lean = part::find_gauge(*exercise.part, "lean");
    REQUIRE(lean >= 0);
    CHECK(exercise.part->gauges[static_cast<std::size_t>(lean)].tolerance == doctest::Approx(0.15 * std::numbers::pi / 180));
    CHECK(exercise.heat.interpass_max_k == doctest::Approx(523.15));
}

TEST_CASE("every exercise can be graded: weights, times and must-pass gauges make sense") {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(exercises)) {
        if (!entry.path().filename().string().ends_with(".exercise.toml"))
            continue;
        CAPTURE(entry.path().filename().string());
        const grading::Exercise exercise = grading::read_exercise(entry.path());
        CHECK(exercise.time.slow_s > exercise.time.good_s);
        CHECK(!exercise.cautions.empty());
        CHECK(exercise.file == entry.path());
        for (const part::Gauge& gauge : exercise.part->gauges) {
            CHECK(gauge.tolerance > 0);
            CHECK(!gauge.tolerance_source.empty());
        }
        ++count;
    }
    CHECK(count >= 6);
}
