#include "parallel/agree.h"
#include "parallel/share_out.h"
#include "parallel/thread_ranks.h"

#include <doctest/doctest.h>

#include <numeric>

using namespace holdtrue;
using namespace holdtrue::parallel;
using holdtrue::parallel::testing::on_ranks;

TEST_CASE("every piece of work is done once, by the rank it belongs to, and all ranks get all results") {
    for (const int ranks : {1, 2, 3, 5})
        for (const int count : {0, 1, 4, 23}) {
            CAPTURE(ranks);
            CAPTURE(count);
            std::vector<std::atomic<int>> done(static_cast<std::size_t>(count));
            std::vector<int> expected(static_cast<std::size_t>(count));
            for (int k = 0; k < count; ++k)
                expected[static_cast<std::size_t>(k)] = 100 * k + k % ranks;
            const auto all = on_ranks(ranks, [&](Communicator& communicator) {
                return gather({2, &communicator}, count, [&](int k) {
                    ++done[static_cast<std::size_t>(k)];
                    return 100 * k + communicator.rank();
                });
            });
            for (const std::vector<int>& results : all)
                CHECK(results == expected);
            for (const std::atomic<int>& times : done)
                CHECK(times == 1);
        }
}

TEST_CASE("without ranks the work is done here, on threads") {
    const std::vector<int> squares = gather(3, 10, [](int k) { return k * k; });
    CHECK(std::accumulate(squares.begin(), squares.end(), 0) == 285);
    SelfCommunicator alone;
    CHECK(alone.leads());
    CHECK(alone.cores() >= 1);
    CHECK(alone.all_gather("x") == std::vector<std::string>{"x"});
}

TEST_CASE("what one rank cannot read, all refuse alike") {
    const auto lines = on_ranks(4, [](Communicator& communicator) -> std::string {
        try {
            agreed(communicator, [&]() -> int {
                if (communicator.rank() >= 2)
                    throw text::InputError("arm.plan.toml", communicator.rank(), text::in_english("cannot be read"),
                                           text::in_english("copy it there"));
                return 1;
            });
        } catch (const text::InputError& error) {
            return error.what();
        }
        return "nothing thrown";
    });
    for (const std::string& line : lines)
        CHECK(line == "arm.plan.toml:2: cannot be read; copy it there");
    const auto values = on_ranks(
        3, [](Communicator& communicator) { return agreed(communicator, [&] { return communicator.rank() + 1; }); });
    CHECK(values == std::vector<int>{1, 2, 3});
}

TEST_CASE("one stop stops all, and files that differ are told on all ranks") {
    const auto stopped =
        on_ranks(3, [](Communicator& communicator) { return any(communicator, communicator.rank() == 1) ? 1 : 0; });
    CHECK(stopped == std::vector<int>{1, 1, 1});
    const auto idle = on_ranks(3, [](Communicator& communicator) { return any(communicator, false) ? 1 : 0; });
    CHECK(idle == std::vector<int>{0, 0, 0});
    const auto refused = on_ranks(3, [](Communicator& communicator) {
        check_same(communicator, "a.toml", "same");
        try {
            check_same(communicator, "b.toml", communicator.rank() == 2 ? "new" : "old");
        } catch (const text::InputError&) {
            return 1;
        }
        return 0;
    });
    CHECK(refused == std::vector<int>{1, 1, 1});
}
