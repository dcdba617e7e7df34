// The tee of the demo as a problem of order: what a study says must be true when it is looked at again.
#include "grading/grade.h"
#include "grading/read_exercise.h"
#include "order/phrases.h"
#include "order/study.h"
#include "weld/read_plan.h"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

using namespace holdtrue;
using namespace holdtrue::order;

namespace {

struct Tee {
    grading::Exercise exercise;
    weld::Plan plan;
    weld::Options options{.element_scale = 2};
    OrderSpace space;
    std::unique_ptr<weld::Rehearsal> rehearsal;

    static std::filesystem::path folder() { return std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons/exercises"; }
    Tee()
        : exercise(grading::read_exercise(folder() / "tee_coupon.exercise.toml")),
          plan(weld::read_plan(folder() / "tee_coupon.model.plan.toml", *exercise.part, *exercise.shop)),
          space(exercise.part, plan) {
        options.condensed = weld::condense(*exercise.part, 2);
        rehearsal =
            std::make_unique<weld::Rehearsal>(exercise.part, exercise.shop, plan, options.condensed, 2, options);
    }
};

StudyOptions small(int threads) {
    StudyOptions options;
    options.search.tries = 160;
    options.search.threads = threads;
    options.sample = 40;
    options.changes = 60;
    options.trials = 20;
    return options;
}

} // namespace

TEST_CASE("the search over a whole exercise finds the order that enumeration finds") {
    // Four runs and the tacks where they are: 4! 2^4 orders.
    const Tee tee;
    weld::Plan runs = tee.plan;
    std::erase_if(runs.moves, [&](const weld::Move& move) {
        const auto* weld = std::get_if<weld::WeldPass>(&move.what);
        return !weld || tee.exercise.part->passes[static_cast<std::size_t>(weld->pass)].kind != part::PassKind::run;
    });
    const OrderSpace space(tee.exercise.part, runs);
    REQUIRE(space.size() == 4);
    const Problem problem = exercise_problem(tee.exercise, space, *tee.rehearsal);
    const SearchResult all = enumerate(problem, space.order_of(runs), 3, 400);
    CHECK(all.tries == 384);
    SearchOptions options;
    options.tries = 1200;
    options.threads = 2;
    for (const Method method : {Method::annealing, Method::large_neighbourhood}) {
        options.method = method;
        const SearchResult found = search(problem, options);
        // The search may also put waits in, which enumeration leaves out.
        CHECK(found.leaders.front().cost <= all.leaders.front().cost);
    }
}

TEST_CASE("a study says the same for any number of threads, and what it says is so") {
    const Tee tee;
    const Study one = study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(1));
    const Study two = study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(2));
    REQUIRE(one.finalists.size() == two.finalists.size());
    for (std::size_t k = 0; k < one.finalists.size(); ++k) {
        CHECK(one.finalists[k].rehearsed.order == two.finalists[k].rehearsed.order);
        CHECK(one.finalists[k].cost == two.finalists[k].cost);
        CHECK(one.finalists[k].forgives->within == two.finalists[k].forgives->within);
    }
    REQUIRE(one.sample.size() == 40);
    CHECK(one.standing.points_beat == two.standing.points_beat);

    // The standing, counted again.
    int worse = 0;
    for (const Candidate& candidate : one.sample)
        worse += candidate.finding.points_lost > one.plan.finding.points_lost;
    CHECK(one.standing.points_beat == doctest::Approx(worse / 40.0));

    // A single change is one that helps, and gives the cost that it promises.
    const Problem problem = exercise_problem(tee.exercise, tee.space, *tee.rehearsal);
    for (const SingleChange& change : one.changes) {
        CHECK(change.gain > 0);
        CHECK(tee.space.valid(change.after.order));
        const Finding again = problem.make_evaluator()->evaluate(change.after.order);
        CHECK(one.plan.cost - problem.cost(again) == doctest::Approx(change.gain));
    }
    // The search does not end worse than where it began, and finalists are in the order of the full simulation.
    CHECK(one.found.leaders.front().cost <= one.plan.cost);
    for (std::size_t k = 1; k < one.finalists.size(); ++k)
        CHECK(one.finalists[k - 1].cost <= one.finalists[k].cost);
    for (const Finalist& finalist : one.finalists) {
        const auto outcome =
            weld::simulate(tee.exercise.part, tee.exercise.shop, tee.space.plan(finalist.rehearsed.order), tee.options);
        CHECK(finding_of(tee.exercise, tee.space, finalist.rehearsed.order, *outcome) == *finalist.simulated);
    }
}

TEST_CASE("where no order keeps the limits, a study says how near searches for just that came") {
    Tee tee;
    CHECK(study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(2)).nearest_shares.empty());
    part::Part strict = *tee.exercise.part;
    for (part::Gauge& gauge : strict.gauges)
        gauge.tolerance /= 200;
    tee.exercise.part = std::make_shared<const part::Part>(strict);
    const Study study = study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(2));
    REQUIRE(static_cast<int>(study.nearest_shares.size()) == small(2).search.chains);
    CHECK(study.nearest_shares.front() > 1);
    CHECK(std::ranges::is_sorted(study.nearest_shares));
    for (const Candidate& candidate : study.sample)
        CHECK(worst_share(strict, candidate.finding) >= study.nearest_shares.front());
    CHECK(std::ranges::count(study.finalists, Finalist::Origin::nearest, &Finalist::origin) <= 1);
}

TEST_CASE("points of the order are those of the mark") {
    const Tee tee;
    const auto outcome = weld::simulate(tee.exercise.part, tee.exercise.shop, tee.plan, tee.options);
    const grading::Mark mark = grading::grade(tee.exercise, *outcome);
    const grading::OrderPoints points = grading::order_points(tee.exercise, *outcome);
    CHECK(points.reached == doctest::Approx(mark.reached[1] + mark.reached[2] + mark.reached[4]));
    CHECK(points.possible == doctest::Approx(mark.possible[1] + mark.possible[2] + mark.possible[4]));
}

TEST_CASE("a hand that does not scatter keeps or misses the limits every time; one that does gives a chance") {
    const Tee tee;
    const std::vector<Order> orders{tee.space.order_of(tee.plan)};
    const ScatterSpan steady{0, 0, 0, 0};
    const Robustness same = robustness(tee.exercise, tee.space, *tee.rehearsal, orders, 5, 2, 1, steady).front();
    const auto outcome = tee.rehearsal->weld(tee.space.plan(orders.front()));
    for (std::size_t g = 0; g < same.mean.size(); ++g) {
        CHECK(same.mean[g] == doctest::Approx(outcome->gauges[g].value - outcome->gauges[g].nominal));
        CHECK(same.spread[g] < 1e-9);
    }
    CHECK((same.within == 0 || same.within == 5));
    const Robustness real = robustness(tee.exercise, tee.space, *tee.rehearsal, orders, 50, 2, 1).front();
    CHECK(real.trials == 50);
    for (const double spread : real.spread)
        CHECK(spread > 0);
}

TEST_CASE("an order with a pattern has fewer phrases than one without") {
    const Tee tee;
    const Order listed = listed_order(tee.space, tee.space.order_of(tee.plan));
    Random random(3);
    for (int k = 0; k < 20; ++k)
        CHECK(count_phrases(tee.space, listed) <= count_phrases(tee.space, tee.space.random(random)));
}

TEST_CASE("where settings change from pass to pass, the search finds orders that change them less often") {
    Tee tee;
    tee.exercise.time = {300, 2400, 0, 0};
    arc::SettingCard other = tee.plan.cards.front();
    other.name = "other";
    other.volts_v += 0.3;
    other.gas = "mix_92";
    REQUIRE(std::ranges::find(tee.exercise.shop->gases, other.gas, &arc::Gas::id) != tee.exercise.shop->gases.end());
    weld::Plan plan = tee.plan;
    plan.cards.push_back(other);
    int card = 0;
    for (weld::Move& move : plan.moves)
        if (auto* weld = std::get_if<weld::WeldPass>(&move.what))
            weld->card = card = 1 - card;
    const weld::Rehearsal rehearsal(tee.exercise.part, tee.exercise.shop, plan, tee.options.condensed, 2, tee.options);
    const OrderSpace space(tee.exercise.part, plan);
    const int alternating = space.size() - 1;

    const Study one = study_orders(tee.exercise, plan, rehearsal, tee.options, small(1));
    const Study two = study_orders(tee.exercise, plan, rehearsal, tee.options, small(2));
    CHECK(one.plan.finding.setup_changes == alternating);
    const Candidate& best = one.found.leaders.front();
    CHECK(best.order == two.found.leaders.front().order);
    CHECK(best.cost == two.found.leaders.front().cost);
    CHECK(best.finding.setup_changes < alternating);
    CHECK(best.finding.total_s < one.plan.finding.total_s);
    const auto simplest = std::ranges::find(one.finalists, Finalist::Origin::simplest, &Finalist::origin);
    REQUIRE(simplest != one.finalists.end());
    CHECK(simplest->rehearsed.finding.setup_changes < alternating);
    for (const Finalist& finalist : one.finalists)
        CHECK(finalist.simulated->setup_changes == finalist.rehearsed.finding.setup_changes);
}

TEST_CASE("where an exercise cannot be passed with hot starts, an order with one costs more than any other") {
    Tee tee;
    const Order order = tee.space.order_of(tee.plan);
    tee.exercise.heat.interpass_max_k = units::celsius(45);
    tee.exercise.must_pass = {};
    const Problem lenient = exercise_problem(tee.exercise, tee.space, *tee.rehearsal);
    const Finding found = lenient.make_evaluator()->evaluate(order);
    REQUIRE(found.hottest_interpass_k > tee.exercise.heat.interpass_max_k);
    const double without = lenient.cost(found);
    tee.exercise.must_pass = {grading::must_stay_cool};
    const Problem strict = exercise_problem(tee.exercise, tee.space, *tee.rehearsal);
    const double share = (found.hottest_interpass_k - tee.exercise.part->ambient_k) /
                         (tee.exercise.heat.interpass_max_k - tee.exercise.part->ambient_k);
    CHECK(strict.cost(found) == doctest::Approx(without + 20 * (share - 1)));

    tee.exercise.heat.interpass_max_k = found.hottest_interpass_k; // kept
    CHECK(strict.cost(found) == doctest::Approx(without));
}
