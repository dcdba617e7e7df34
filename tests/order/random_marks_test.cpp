// A few random plans on every exercise; tests/order/random_marks runs a thousand on each.
#include "random_plans.h"

#include <doctest/doctest.h>

using namespace holdtrue;

namespace {

// Coarse cells: this is about marks, not about the last tenth of a millimetre.
constexpr double very_coarse = 2.5;
constexpr double wide_margin = 5; // points of 100; the model plan is a good one, not the best of all

void check(const std::string& part) {
    for (const std::string& name : test::exercise_names()) {
        const grading::Exercise exercise = grading::read_exercise(test::exercises_folder() / (name + ".exercise.toml"));
        if (exercise.part->name != part)
            continue;
        const test::RandomPlans plans(name, very_coarse);
        const double model = plans.mark(plans.model).total;
        order::Random random(6, name.size());
        for (int k = 0; k < 3; ++k) {
            CAPTURE(name);
            CAPTURE(k);
            const weld::Plan plan = plans.random(random);
            CHECK(weld::check_plan(plan, *exercise.part, *exercise.shop).empty());
            const auto outcome = plans.weld(plan);
            const grading::Mark mark = grading::grade(plans.exercise, *outcome);
            CHECK(mark.total >= 0);
            CHECK(mark.total <= 100 + 1e-9);
            CHECK_MESSAGE(mark.total <= model + wide_margin,
                          "a better model plan: " << mark.total << " against " << model);
            CHECK(test::largest_rise(plans.exercise, *outcome) <= 1e-9);
            if (k == 0)
                CHECK(plans.mark(plan).total == mark.total); // same plan, same mark
        }
    }
}

} // namespace

TEST_CASE("random plans on tee_coupon") { check("tee_coupon"); }
TEST_CASE("random plans on lap_strip") { check("lap_strip"); }
TEST_CASE("random plans on rail_frame") { check("rail_frame"); }
TEST_CASE("random plans on ribbed_deck") { check("ribbed_deck"); }
TEST_CASE("random plans on pivot_bracket") { check("pivot_bracket"); }
TEST_CASE("random plans on lift_arm") { check("lift_arm"); }
