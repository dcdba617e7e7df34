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
    const SearchResult all = enumerate(problem, OrderSpace::Freedom::sequence_and_direction, 3, 400);
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

TEST_CASE(
    "where no order keeps the limits, a study says how near searches for just that came, and that it is no proof") {
    Tee tee;
    CHECK_FALSE(study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(2)).out_of_reach);
    part::Part strict = *tee.exercise.part;
    for (part::Gauge& gauge : strict.gauges)
        gauge.tolerance /= 200;
    tee.exercise.part = std::make_shared<const part::Part>(strict);
    const Study study = study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(2));
    REQUIRE(study.out_of_reach);
    const OutOfReach& reach = *study.out_of_reach;
    CHECK_FALSE(reach.tried_all);
    REQUIRE(static_cast<int>(reach.nearest.size()) == small(2).search.chains);
    CHECK(reach.nearest.front() > 1);
    CHECK(std::ranges::is_sorted(reach.nearest));
    std::size_t better = 0;
    for (const Candidate& candidate : study.sample) {
        CHECK(worst_share(strict, candidate.finding) >= reach.nearest.front());
        better += worst_share(strict, candidate.finding) < reach.random_high;
    }
    CHECK(better >= study.sample.size() * 9 / 10);
    CHECK(std::pow(1 - reach.most_random_within, study.sample.size()) == doctest::Approx(0.05));
    CHECK(std::ranges::count(study.finalists, Finalist::Origin::nearest, &Finalist::origin) <= 1);
}

TEST_CASE("where the tries reach all orders of a plan, a study proves how far out of reach the limits are") {
    Tee tee;
    weld::Plan two = tee.plan;
    int kept = 0;
    std::erase_if(two.moves, [&](const weld::Move& move) {
        return !std::holds_alternative<weld::WeldPass>(move.what) || ++kept > 2;
    });
    part::Part strict = *tee.exercise.part;
    for (part::Gauge& gauge : strict.gauges)
        gauge.tolerance /= 1e6;
    tee.exercise.part = std::make_shared<const part::Part>(strict);
    const OrderSpace space(tee.exercise.part, two);
    const Study study = study_orders(tee.exercise, two, *tee.rehearsal, tee.options, small(2));
    CHECK(study.found.tried_all);
    CHECK(study.found.tries == doctest::Approx(std::pow(10.0, space.digits_of_count())));
    REQUIRE(study.out_of_reach);
    CHECK(study.out_of_reach->tried_all);
    CHECK(study.out_of_reach->nearest.size() == 1);
    for (const Candidate& candidate : study.sample)
        CHECK(worst_share(strict, candidate.finding) >= study.out_of_reach->nearest.front());
}

TEST_CASE("a search keeps every start below the limit by waiting no longer than it must") {
    Tee tee;
    tee.exercise.heat.interpass_max_k = units::celsius(60);
    tee.exercise.must_pass = {grading::must_stay_cool};
    const Problem problem = exercise_problem(tee.exercise, tee.space, *tee.rehearsal);
    const auto evaluator = problem.make_evaluator();
    Random random(5);
    for (int k = 0; k < 5; ++k) {
        const Order order = tee.space.random(random);
        REQUIRE(evaluator->evaluate(order).hottest_interpass_k > tee.exercise.heat.interpass_max_k);
        Order cool = problem.cooled(order);
        CHECK(tee.space.valid(cool));
        CHECK(evaluator->evaluate(cool).hottest_interpass_k <= tee.exercise.heat.interpass_max_k);
        CHECK(problem.cooled(cool) == cool);
        // Any shorter wait is too short; 3 % of the rise are kept in hand, which the next shorter one would need too.
        for (OrderedPass& pass : cool.passes)
            if (pass.wait > 0) {
                --pass.wait;
                CHECK(problem.cooled(cool).passes[static_cast<std::size_t>(&pass - cool.passes.data())].wait ==
                      pass.wait + 1);
                ++pass.wait;
            }
    }
    for (const Candidate& leader : search(problem, small(2).search).leaders)
        CHECK(leader.finding.hottest_interpass_k <= tee.exercise.heat.interpass_max_k);

    // What was found is cool in the full simulation too, which may find a start hotter than the rehearsal does.
    const Study study = study_orders(tee.exercise, tee.plan, *tee.rehearsal, tee.options, small(2));
    for (const Finalist& finalist : study.finalists)
        if (finalist.origin != Finalist::Origin::plan && finalist.origin != Finalist::Origin::listed)
            CHECK(finalist.simulated->hottest_interpass_k <= tee.exercise.heat.interpass_max_k);
}

TEST_CASE("a pass that a simulation finds hotter than the rehearsal is given a lower limit, the others keep theirs") {
    const Tee tee;
    const auto rehearsed = tee.rehearsal->weld(tee.plan);
    weld::Outcome simulated = *rehearsed;
    const std::vector<double> before_k = start_limits_k(tee.exercise);
    CHECK(start_limits_k(tee.exercise, *rehearsed, simulated) == before_k);
    const auto hot = static_cast<std::size_t>(
        std::ranges::find_if(simulated.moves, [](const auto& move) { return move.welded && move.interpass_k > 310; }) -
        simulated.moves.begin());
    REQUIRE(hot < simulated.moves.size());
    const double air_k = tee.exercise.part->ambient_k;
    simulated.moves[hot].interpass_k = air_k + 2 * (simulated.moves[hot].interpass_k - air_k);
    const std::vector<double> after_k = start_limits_k(tee.exercise, *rehearsed, simulated);
    const auto pass = static_cast<std::size_t>(std::get<weld::WeldPass>(tee.plan.moves[hot].what).pass);
    for (std::size_t p = 0; p < after_k.size(); ++p)
        CHECK(after_k[p] - air_k == doctest::Approx((p == pass ? 0.5 : 1) * (before_k[p] - air_k)));
}

TEST_CASE("a wait for a temperature counts as long as it takes when the plan is rehearsed") {
    Tee tee;
    std::erase_if(tee.plan.moves, [](const weld::Move& move) { return std::holds_alternative<weld::Wait>(move.what); });
    std::size_t last = 0; // pass of the plan
    for (std::size_t k = 0; k < tee.plan.moves.size(); ++k)
        if (std::holds_alternative<weld::WeldPass>(tee.plan.moves[k].what))
            last = k;
    const double hot_k = tee.rehearsal->weld(tee.plan)->moves[last].interpass_k;
    const auto at = tee.plan.moves.begin() + static_cast<std::ptrdiff_t>(last);
    tee.plan.moves.insert(at, {weld::Wait{0, hot_k - 20}, 0});
    const auto outcome = tee.rehearsal->weld(tee.plan);
    const double took_s = outcome->moves[last].end_s - outcome->moves[last].start_s;
    REQUIRE(took_s < 450); // nearer to another wait than to the longest
    const Order order = order_as_rehearsed(tee.space, *tee.rehearsal, tee.plan);
    const double counted_s = tee.space.waits_s()[static_cast<std::size_t>(order.passes.back().wait)];
    for (const double other_s : tee.space.waits_s())
        CHECK(std::abs(counted_s - took_s) <= std::abs(other_s - took_s));
}

TEST_CASE("points of the order are those of the mark") {
    const Tee tee;
    const auto outcome = weld::simulate(tee.exercise.part, tee.exercise.shop, tee.plan, tee.options);
    const grading::Mark mark = grading::grade(tee.exercise, *outcome);
    const grading::OrderPoints points = grading::order_points(tee.exercise, *outcome);
    CHECK(points.reached == doctest::Approx(mark.reached[1] + mark.reached[2] + mark.reached[4]));
    CHECK(points.possible == doctest::Approx(mark.possible[1] + mark.possible[2] + mark.possible[4]));
}

TEST_CASE("a hand that does not scatter keeps or misses the limits every time, one that does gives a chance") {
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
