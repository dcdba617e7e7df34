#include "grading/grade.h"
#include "weld/hand_made.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

using namespace holdtrue;
using grading::Aspect;
using grading::Mark;
using grading::Remark;

namespace {

grading::Exercise exercise_for(const weld::Outcome& outcome) {
    grading::Exercise exercise;
    exercise.name = "tee";
    exercise.title = "T of two plates";
    exercise.part = outcome.part;
    exercise.shop = outcome.shop;
    exercise.rules = std::make_shared<const arc::RuleBook>(); // no rules: settings are tested elsewhere
    exercise.weights = {20, 20, 40, 10, 10};
    exercise.heat.interpass_max_k = 800;
    exercise.heat.interpass_source = "made by hand";
    exercise.time = {100, 400, 2, 6};
    return exercise;
}

double reached(const Mark& mark, Aspect aspect) { return mark.reached[static_cast<std::size_t>(aspect)]; }

const Remark* find(const Mark& mark, Aspect aspect, auto wanted) {
    const auto found = std::ranges::find_if(
        mark.remarks, [&](const Remark& remark) { return remark.aspect == aspect && wanted(remark); });
    return found == mark.remarks.end() ? nullptr : &*found;
}

void check_that_losses_add_up(const Mark& mark) {
    std::array<double, grading::aspect_count> lost{};
    for (const Remark& remark : mark.remarks)
        lost[static_cast<std::size_t>(remark.aspect)] += remark.points_lost;
    double total = 0;
    for (std::size_t a = 0; a < grading::aspect_count; ++a) {
        CHECK(mark.reached[a] + lost[a] == doctest::Approx(mark.possible[a]).epsilon(1e-9));
        CHECK(mark.reached[a] >= -1e-12);
        total += mark.reached[a];
    }
    CHECK(mark.total == doctest::Approx(total));
}

} // namespace

TEST_CASE("the mark falls with every gauge's error, smoothly and to both sides") {
    weld::Outcome outcome = test::outcome();
    const grading::Exercise exercise = exercise_for(outcome);
    for (std::size_t g = 0; g < outcome.gauges.size(); ++g)
        for (const double side : {-1.0, 1.0}) {
            weld::Outcome worse = outcome;
            double before = 101, before_gauges = 101;
            for (int k = 0; k <= 60; ++k) {
                worse.gauges[g].value = worse.gauges[g].nominal + side * 0.1 * k * outcome.part->gauges[g].tolerance;
                // The prediction may be right or wrong; it is not part of this property.
                const Mark mark = grading::grade(exercise, worse);
                const double total = mark.total - reached(mark, Aspect::prediction);
                if (k > 0) {
                    CHECK(total < before);
                    CHECK(before - total < 6); // of 100, for a tenth of a tolerance
                }
                CHECK(reached(mark, Aspect::gauges) <= before_gauges);
                before = total;
                before_gauges = reached(mark, Aspect::gauges);
                check_that_losses_add_up(mark);
            }
        }
}

TEST_CASE("the same outcome gives the same mark") {
    const weld::Outcome outcome = test::outcome();
    const grading::Exercise exercise = exercise_for(outcome);
    const Mark one = grading::grade(exercise, outcome), two = grading::grade(exercise, outcome);
    CHECK(one.total == two.total);
    REQUIRE(one.remarks.size() == two.remarks.size());
    for (std::size_t k = 0; k < one.remarks.size(); ++k) {
        CHECK(one.remarks[k].chosen == two.remarks[k].chosen);
        CHECK(one.remarks[k].points_lost == two.remarks[k].points_lost);
    }
}

TEST_CASE("leaving passes out never pays and is named") {
    const weld::Outcome whole = test::outcome();
    const grading::Exercise exercise = exercise_for(whole);
    const double full = grading::grade(exercise, whole).total;
    weld::Outcome part_done = whole;
    while (part_done.plan.moves.size() > 1) {
        part_done.plan.moves.pop_back();
        part_done.moves.pop_back();
        // Even if the unwelded part happened to be perfect and quick.
        for (weld::GaugeOutcome& gauge : part_done.gauges)
            gauge.value = gauge.nominal;
        const Mark mark = grading::grade(exercise, part_done);
        CHECK(!mark.passed);
        CHECK(mark.why_not.english().find("the part is not finished") != std::string::npos);
        const Remark* remark =
            find(mark, Aspect::gauges, [](const Remark& r) { return r.topic.english() == "work left out"; });
        REQUIRE(remark);
        CHECK(remark->try_this.english().find("Add to the plan: ") == 0);
        CHECK(remark->try_this.english().find("/3") != std::string::npos);
        CHECK(mark.total < full);
        check_that_losses_add_up(mark);
    }
}

TEST_CASE("time cannot be gamed: a quick plan that ruins the part earns nothing for speed") {
    weld::Outcome quick = test::outcome();
    const grading::Exercise exercise = exercise_for(quick);
    for (weld::GaugeOutcome& gauge : quick.gauges)
        gauge.value = gauge.nominal + 6e-3;
    weld::Outcome slow = test::outcome();
    slow.moves.back().end_s = 399;
    CHECK(reached(grading::grade(exercise, quick), Aspect::time_and_handling) < 0.1);
    CHECK(grading::grade(exercise, quick).total < grading::grade(exercise, slow).total - 30);
}

TEST_CASE("the remark on time says what changes of settings took, and what to try where they took the most") {
    weld::Outcome outcome = test::outcome();
    const grading::Exercise exercise = exercise_for(outcome);
    const auto time_remark = [&] {
        const Mark mark = grading::grade(exercise, outcome);
        check_that_losses_add_up(mark);
        const Remark* remark =
            find(mark, Aspect::time_and_handling, [](const Remark& each) { return each.topic.english() == "time"; });
        REQUIRE(remark);
        return *remark;
    };
    outcome.moves.back().end_s += 200;
    CHECK(time_remark().measured.english().find("to set") == std::string::npos);
    CHECK(time_remark().try_this.english().find("one card") == std::string::npos);
    for (const std::size_t k : {1, 3, 5}) {
        outcome.moves[k].setup_change.gas = true;
        outcome.moves[k].setup_change_s = k == 3 ? 150 : 20;
    }
    CHECK(time_remark().measured.english().find("3 min 10 s of it to set") != std::string::npos);
    CHECK(time_remark().try_this.english().find("3 times: weld the passes of one card together") != std::string::npos);
    CHECK(time_remark().move == 3);
}

TEST_CASE("a hot start is remarked with move, value and limit, and costs more the hotter it is") {
    weld::Outcome outcome = test::outcome();
    grading::Exercise exercise = exercise_for(outcome);
    exercise.heat.interpass_max_k = units::celsius(250);
    double before = 101;
    for (const double celsius : {240.0, 260.0, 300.0, 380.0}) {
        outcome.moves[3].interpass_k = units::celsius(celsius);
        for (std::size_t k = 0; k < outcome.moves.size(); ++k)
            if (k != 3)
                outcome.moves[k].interpass_k = units::celsius(60);
        const Mark mark = grading::grade(exercise, outcome);
        const Remark* remark =
            find(mark, Aspect::order_and_heat, [](const Remark& r) { return r.verdict == grading::Verdict::fail; });
        CHECK((remark != nullptr) == (celsius > 250));
        if (remark) {
            CHECK(remark->move == 3);
            CHECK(remark->measured.english().find(units::temperature_text(units::celsius(celsius))) !=
                  std::string::npos);
            CHECK(remark->limit.english().find("250 °C") != std::string::npos);
            CHECK(remark->source.english() == "made by hand");
            CHECK(!remark->try_this.empty());
        }
        CHECK(mark.total < before);
        before = mark.total;
    }
}

TEST_CASE("predictions: right, wrong, missing, and either of two near the edge") {
    weld::Outcome outcome = test::outcome();
    const grading::Exercise exercise = exercise_for(outcome);
    const auto points = [&](double share_of_tolerance, weld::Sense said) {
        outcome.gauges[0].value = outcome.gauges[0].nominal + share_of_tolerance * outcome.part->gauges[0].tolerance;
        outcome.plan.predictions = {{0, said}, {1, weld::Sense::shrinks}};
        return reached(grading::grade(exercise, outcome), Aspect::prediction);
    };
    CHECK(points(0.8, weld::Sense::grows) == doctest::Approx(10));
    CHECK(points(0.8, weld::Sense::stays) == doctest::Approx(5));
    CHECK(points(0.8, weld::Sense::shrinks) == doctest::Approx(5));
    CHECK(points(0.1, weld::Sense::grows) == doctest::Approx(10));
    CHECK(points(0.1, weld::Sense::stays) == doctest::Approx(10));
    CHECK(points(0.1, weld::Sense::shrinks) == doctest::Approx(5));
    outcome.plan.predictions.clear();
    CHECK(reached(grading::grade(exercise, outcome), Aspect::prediction) == doctest::Approx(0));
}

TEST_CASE("a gauge that must be right stops a pass, and its remark says which weld pulled it") {
    weld::Outcome outcome = test::outcome();
    grading::Exercise exercise = exercise_for(outcome);
    exercise.must_pass = {"bow"};
    CHECK(grading::grade(exercise, outcome).passed);
    outcome.gauges[0].value = outcome.gauges[0].nominal + 0.8e-3;
    outcome.gauges[0].after_move.back() = outcome.gauges[0].value;
    outcome.moves[2].gauge_contribution[0] = 0.9e-3;
    const Mark mark = grading::grade(exercise, outcome);
    CHECK(!mark.passed);
    CHECK(mark.why_not.english().find("bow of the flange") != std::string::npos);
    const Remark* remark =
        find(mark, Aspect::gauges, [](const Remark& r) { return r.verdict == grading::Verdict::fail; });
    REQUIRE(remark);
    CHECK(remark->gauge == 0);
    CHECK(remark->move == 2);
    CHECK(remark->measured.english() == "+0.80 mm");
    CHECK(remark->limit.english() == "±0.50 mm");
    CHECK(remark->try_this.english().find("move 3, pass 'left/1' and the cooling after it (+0.90 mm)") !=
          std::string::npos);
    CHECK(remark->try_this.english().find("'right' pulls it the other way") != std::string::npos);
    // Within its limit, but not by much, it speaks of the move too, and leads to it.
    outcome.gauges[0].value = outcome.gauges[0].nominal + 0.45e-3;
    outcome.gauges[0].after_move.back() = outcome.gauges[0].value;
    const Mark near = grading::grade(exercise, outcome);
    remark = find(near, Aspect::gauges, [](const Remark& r) { return r.verdict == grading::Verdict::caution; });
    REQUIRE(remark);
    CHECK(remark->gauge == 0);
    CHECK(remark->move == 2);
    CHECK(remark->try_this.english().find("move 3, pass 'left/1'") != std::string::npos);
}

TEST_CASE("a part welded without cover of gas is scrap, however straight it is, all that stands in the way is told") {
    weld::Outcome outcome = test::outcome();
    grading::Exercise exercise = exercise_for(outcome);
    exercise.rules = std::make_shared<const arc::RuleBook>(arc::RuleBook::read());
    REQUIRE(grading::grade(exercise, outcome).passed);
    for (arc::SettingCard& card : outcome.plan.cards)
        card.gas_flow_m3_per_s = 0.1 * units::litre_per_minute;
    Mark mark = grading::grade(exercise, outcome);
    CHECK(!mark.passed);
    CHECK(mark.why_not.english().find("no gas covers the pool") != std::string::npos);
    for (arc::SettingCard& card : outcome.plan.cards)
        card.polarity = arc::Polarity::electrode_negative;
    mark = grading::grade(exercise, outcome);
    CHECK(mark.why_not.english().find("no gas covers the pool") != std::string::npos);
    CHECK(mark.why_not.english().find("electrode positive") != std::string::npos);
}

TEST_CASE("uneven halves are seen before an arc strikes") {
    weld::Outcome outcome = test::outcome();
    grading::Exercise exercise = exercise_for(outcome);
    exercise.heat.even_heat_max_k = 50;
    const double even = reached(grading::grade(exercise, outcome), Aspect::order_and_heat);
    outcome.moves[3].halves_k = {80, 0, 0};
    const Mark mark = grading::grade(exercise, outcome);
    CHECK(reached(mark, Aspect::order_and_heat) < even);
    const Remark* remark =
        find(mark, Aspect::order_and_heat, [](const Remark& r) { return r.verdict != grading::Verdict::pass; });
    REQUIRE(remark);
    CHECK(remark->move == 3);
    CHECK(remark->measured.english().find("+x half is") != std::string::npos);
    check_that_losses_add_up(mark);
}

TEST_CASE("what is too hot, and what is loose, is one remark each, whose advice cures all of it") {
    weld::Outcome outcome = test::outcome();
    grading::Exercise exercise = exercise_for(outcome);
    exercise.must_pass = {grading::must_stay_cool};
    exercise.heat.interpass_max_k = units::celsius(250);
    for (const std::size_t k : {2, 4})
        outcome.moves[k].interpass_k = units::celsius(k == 2 ? 300 : 400);
    const Mark mark = grading::grade(exercise, outcome);
    std::vector<Remark> hot;
    std::ranges::copy_if(mark.remarks, std::back_inserter(hot),
                         [](const Remark& r) { return r.topic.english() == "interpass temperature"; });
    REQUIRE(hot.size() == 1);
    CHECK(hot[0].move == 4);
    CHECK(hot[0].chosen.english().find("moves 3, 5") != std::string::npos);
    CHECK(hot[0].measured.english().find("up to 400 °C") == 0);
    CHECK(hot[0].try_this.english().find("Put a wait until below 250 °C before every") == 0);
    CHECK(hot[0].must_be_met);
    CHECK(mark.remarks.front().topic == hot[0].topic);
    check_that_losses_add_up(mark);
}

TEST_CASE("losses add up on any outcome") {
    std::mt19937 random(7);
    const auto any = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    for (int trial = 0; trial < 200; ++trial) {
        weld::Outcome outcome = test::outcome();
        grading::Exercise exercise = exercise_for(outcome);
        exercise.heat.interpass_max_k = any(300, 700);
        exercise.heat.even_heat_max_k = any(0, 60);
        exercise.all_passes_required = any(0, 1) > 0.5;
        exercise.must_pass = {"bow", grading::must_be_tacked, grading::must_stay_cool};
        for (weld::GaugeOutcome& gauge : outcome.gauges)
            gauge.value = gauge.nominal + any(-5e-3, 5e-3);
        for (auto drop = static_cast<int>(any(0, 6)); drop > 0; --drop) {
            outcome.plan.moves.pop_back();
            outcome.moves.pop_back();
        }
        for (weld::MoveOutcome& move : outcome.moves)
            move.end_s = any(0, 500);
        const Mark mark = grading::grade(exercise, outcome);
        check_that_losses_add_up(mark);
        CHECK(mark.total >= 0);
        CHECK(mark.total <= 100 + 1e-9);
        CHECK(mark.passed == mark.why_not.empty());
        // What must be met comes first, and is remarked wherever it and not the points stands in the way.
        CHECK(std::ranges::is_sorted(mark.remarks, std::greater(), &Remark::must_be_met));
        const bool told = mark.remarks.front().must_be_met;
        CHECK(told == (!mark.passed && mark.why_not.english().find("below the pass mark") == std::string::npos));
    }
}
