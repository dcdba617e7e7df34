// A few random plans on every exercise; tests/order/random_marks runs a thousand on each.
#include "random_plans.h"

#include <doctest/doctest.h>

using namespace holdtrue;

namespace {

// Coarse cells: this is about marks, not about the last tenth of a millimetre.
constexpr double very_coarse = 2.5;
constexpr double wide_margin = 5; // points of 100; the model plan is a good one, not the best of all

// Monotone in every gauge's error and worth something in each; speed counts only as far as the work was right.
void check_rules_of_marks(const test::RandomPlans& plans, const weld::Outcome& outcome) {
    CHECK(test::largest_rise(plans.exercise, outcome) <= 1e-9);
    const grading::Mark mark = grading::grade(plans.exercise, outcome);
    CHECK(test::unearned_time(mark) <= 1e-9);
    const double worth = plans.exercise.weights.gauges / static_cast<double>(outcome.gauges.size());
    CHECK(test::least_loss_of_a_gauge(plans.exercise, outcome) >= 0.9 * worth);
}

void check_same(const grading::Mark& one, const grading::Mark& two) {
    CHECK(one.total == two.total);
    CHECK(one.passed == two.passed);
    CHECK(one.reached == two.reached);
    REQUIRE(one.remarks.size() == two.remarks.size());
    for (std::size_t k = 0; k < one.remarks.size(); ++k) {
        CHECK(one.remarks[k].points_lost == two.remarks[k].points_lost);
        CHECK(one.remarks[k].measured == two.remarks[k].measured);
        CHECK(one.remarks[k].try_this == two.remarks[k].try_this);
    }
}

// Cheap but wrong: quicker than the model plan, and well behind it.
void check_haste(const test::RandomPlans& plans, double model) {
    const auto outcome = plans.weld(test::hurried(plans.model, *plans.exercise.part));
    const grading::Mark mark = grading::grade(plans.exercise, *outcome);
    INFO("in a hurry: " << mark.total << " of the model's " << model);
    CHECK(mark.total < model - 10);
    CHECK(!mark.passed);
    CHECK(test::unearned_time(mark) <= 1e-9);
    // Even if it took no time at all.
    weld::Outcome at_once = *outcome;
    for (weld::MoveOutcome& move : at_once.moves)
        move.start_s = move.end_s = 0;
    CHECK(grading::grade(plans.exercise, at_once).total < model - 10);
}

void check(const std::string& part) {
    for (const std::string& name : test::exercise_names()) {
        const grading::Exercise exercise = grading::read_exercise(test::exercises_folder() / (name + ".exercise.toml"));
        if (exercise.part->name != part)
            continue;
        const test::RandomPlans plans(name, very_coarse);
        const auto model_outcome = plans.weld(plans.model);
        const double model = grading::grade(plans.exercise, *model_outcome).total;
        check_rules_of_marks(plans, *model_outcome);
        check_haste(plans, model);
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
            check_rules_of_marks(plans, *outcome);
            if (k == 0)
                check_same(plans.mark(plan), mark); // same plan, same mark
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
