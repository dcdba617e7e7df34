#include "order/archive.h"
#include "order/search.h"
#include "order/standing.h"
#include "order/toy_part.h"
#include "parallel/thread_ranks.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

using namespace holdtrue;
using namespace holdtrue::order;

namespace {

SearchOptions options(Method method, int tries) {
    SearchOptions options;
    options.method = method;
    options.tries = tries;
    options.chains = 6;
    options.seed = 3;
    return options;
}

constexpr Method methods[] = {Method::annealing, Method::large_neighbourhood, Method::beam};

} // namespace

TEST_CASE("on a small part annealing finds what enumeration finds, and the other methods come close") {
    // Eight passes: two tacks and six runs, 2! 6! 2^8 = 368 640 orders.
    const auto part = toy::part(2, 3, true);
    const OrderSpace space(part, toy::plan(*part));
    const Problem problem = toy::problem(space);
    constexpr auto freedom = OrderSpace::Freedom::sequence_and_direction;
    const SearchResult all = enumerate(problem, freedom, 5, 400000);
    CHECK(all.tries == 368640);
    CHECK(all.tried_all);
    CHECK_THROWS_AS(enumerate(problem, freedom, 5, 1000), std::length_error);
    const double best = all.leaders.front().cost;
    const SearchResult found = search(problem, options(Method::annealing, 60000));
    CHECK(found.tries == 60000);
    CHECK(found.leaders.front().cost == doctest::Approx(best).epsilon(1e-12));
    // Most of its tries are spent on orders that lack passes.
    CHECK(search(problem, options(Method::large_neighbourhood, 60000)).leaders.front().cost < 1.05 * best);
    // The beam looks at beginnings only, where this evaluator is misleading; its polish comes close.
    CHECK(search(problem, options(Method::beam, 60000)).leaders.front().cost < all.leaders[4].cost * 1.5 + 1e-3);
}

TEST_CASE("all orders of a small part are all there are, and the same for any number of threads") {
    // A tack and two runs in a row: 1! 2! sequences, 2^3 directions, waits before the second and third pass, and the
    // clamp off before any of them or at the end.
    const auto part = toy::part(1, 2, true);
    const OrderSpace space(part, toy::plan(*part));
    const Problem problem = toy::problem(space);
    constexpr auto freedom = OrderSpace::Freedom::everything;
    const auto waits = static_cast<int>(space.waits_s().size());
    const int count = 2 * 8 * waits * waits * 4;
    const SearchResult one = enumerate(problem, freedom, 5, count), three = enumerate(problem, freedom, 5, count, 3);
    CHECK(one.tries == count);
    CHECK(std::pow(10.0, space.digits_of_count()) == doctest::Approx(count));
    CHECK(one.tried_all);
    REQUIRE(one.leaders.size() == three.leaders.size());
    for (std::size_t k = 0; k < one.leaders.size(); ++k)
        CHECK(one.leaders[k].order == three.leaders[k].order);
    const std::vector<Candidate> random = sample(problem, 2000, 1, 4);
    for (const Candidate& candidate : random)
        CHECK(one.leaders.front().cost <= candidate.cost);
    CHECK(search(problem, options(Method::annealing, 3000)).leaders.front().cost >= one.leaders.front().cost);
    std::stop_source stop;
    stop.request_stop();
    CHECK_FALSE(enumerate(problem, freedom, 5, count, 1, nullptr, stop.get_token()).tried_all);
}

TEST_CASE("the search beats random orders on a part too large to enumerate") {
    const auto part = toy::part(5, 6, true);
    const OrderSpace space(part, toy::plan(*part));
    const Problem problem = toy::problem(space);
    const std::vector<Candidate> random = sample(problem, 20000, 2, 5);
    const double best_random = std::ranges::min_element(random, {}, &Candidate::cost)->cost;
    for (const Method method : {Method::annealing, Method::large_neighbourhood})
        CHECK(search(problem, options(method, 20000)).leaders.front().cost < best_random);
}

TEST_CASE("leaders are not alike") {
    const auto part = toy::part(5, 6, true);
    const OrderSpace space(part, toy::plan(*part));
    const SearchResult found = search(toy::problem(space), options(Method::annealing, 5000));
    REQUIRE(found.leaders.size() > 3);
    for (std::size_t k = 0; k < found.leaders.size(); ++k)
        for (std::size_t other = 0; other < k; ++other)
            CHECK_FALSE(alike(found.leaders[k].order, found.leaders[other].order));
    Order order = found.leaders.front().order;
    CHECK(alike(order, order));
    order.passes.back().reversed = !order.passes.back().reversed;
    CHECK(alike(order, order));
    std::ranges::reverse(order.passes);
    CHECK_FALSE(alike(order, found.leaders.front().order));
}

TEST_CASE("the winner is the same to the last bit for any number of threads") {
    const auto part = toy::part(3, 4, true);
    const OrderSpace space(part, toy::plan(*part));
    const Problem problem = toy::problem(space);
    for (const Method method : methods) {
        SearchOptions one = options(method, 6000), four = one;
        four.threads = 4;
        const SearchResult a = search(problem, one), b = search(problem, four);
        REQUIRE(a.leaders.size() == b.leaders.size());
        for (std::size_t k = 0; k < a.leaders.size(); ++k) {
            CHECK(a.leaders[k].order == b.leaders[k].order);
            CHECK(a.leaders[k].cost == b.leaders[k].cost);
        }
        CHECK(a.front.size() == b.front.size());
    }
    const auto sampled_1 = sample(problem, 500, 1, 9), sampled_3 = sample(problem, 500, 3, 9);
    for (std::size_t k = 0; k < sampled_1.size(); ++k)
        CHECK(sampled_1[k].order == sampled_3[k].order);
}

TEST_CASE("work shared out over ranks gives the result of one process, to the last bit, on each of them") {
    const auto part = toy::part(3, 4, false);
    const OrderSpace space(part, toy::plan(*part));
    const Problem problem = toy::problem(space);
    const auto same = [](const std::vector<Candidate>& a, const std::vector<Candidate>& b) {
        return std::ranges::equal(a, b, [](const Candidate& x, const Candidate& y) {
            return x.order == y.order && x.finding == y.finding && x.cost == y.cost;
        });
    };
    const Candidate own = sample(problem, 1, 1, 3).front();
    for (const Method method : methods) {
        const SearchOptions alone = options(method, 3000);
        const SearchResult direct = search(problem, alone);
        const std::vector<Candidate> random = sample(problem, 300, 1, 9);
        const std::vector<SingleChange> changes = best_changes(problem, own, 3, 200, 1, 4);
        REQUIRE(!changes.empty());
        for (const int ranks : {2, 3, 11}) { // 11: more than there are chains and blocks
            CAPTURE(ranks);
            const auto agree = parallel::testing::on_ranks(ranks, [&](parallel::Communicator& communicator) {
                SearchOptions shared = alone;
                shared.communicator = &communicator;
                const SearchResult found = search(problem, shared);
                const auto changed = best_changes(problem, own, 3, 200, shared.workers(), 4);
                return found.tries == direct.tries && same(found.leaders, direct.leaders) &&
                               same(found.front, direct.front) &&
                               same(sample(problem, 300, shared.workers(), 9), random) &&
                               std::ranges::equal(changed, changes,
                                                  [](const SingleChange& a, const SingleChange& b) {
                                                      return a.kind == b.kind && a.from == b.from && a.to == b.to &&
                                                             a.gain == b.gain && a.after.order == b.after.order;
                                                  })
                           ? 1
                           : 0;
            });
            CHECK(agree == std::vector<int>(static_cast<std::size_t>(ranks), 1));
        }
    }
}

TEST_CASE("no entry of the front is beaten by another, and leaders are sorted and different") {
    const auto part = toy::part(3, 4, true);
    const OrderSpace space(part, toy::plan(*part));
    const Problem problem = toy::problem(space);
    const SearchResult found = search(problem, options(Method::annealing, 8000));
    REQUIRE(found.front.size() >= 2);
    for (std::size_t k = 1; k < found.front.size(); ++k) {
        CHECK(found.front[k].finding.total_s >= found.front[k - 1].finding.total_s);
        CHECK(problem.distortion(found.front[k].finding) <= problem.distortion(found.front[k - 1].finding));
    }
    for (std::size_t k = 1; k < found.leaders.size(); ++k) {
        CHECK(found.leaders[k].cost >= found.leaders[k - 1].cost);
        CHECK_FALSE(found.leaders[k].order == found.leaders[k - 1].order);
    }
    for (const Candidate& leader : found.leaders)
        CHECK(space.valid(leader.order));
}

TEST_CASE("a stop request ends a search with what it has") {
    const auto part = toy::part(3, 4, true);
    const OrderSpace space(part, toy::plan(*part));
    std::stop_source source;
    SearchProgress progress;
    Problem problem = toy::problem(space);
    const auto cost = problem.cost;
    problem.cost = [&](const Finding& finding) {
        if (progress.tries >= 500)
            source.request_stop();
        return cost(finding);
    };
    const SearchResult found = search(problem, options(Method::annealing, 1000000), &progress, source.get_token());
    CHECK(found.cut_short);
    CHECK(found.tries < 2000);
    CHECK(space.valid(found.leaders.front().order));
}

TEST_CASE("a share is said as none or all of them only when it is") {
    CHECK(share_text(0) == "0 %");
    CHECK(share_text(1) == "100 %");
    CHECK(share_text(0.375) == "38 %");
    CHECK(share_text(1.0 / 300) == "0.3 %");
    CHECK(share_text(1 - 1.0 / 3000) == "99.97 %");
}
