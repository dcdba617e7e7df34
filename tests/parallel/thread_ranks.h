// Ranks that are threads of one process: what ranks tell each other, without mpirun.
#pragma once

#include "parallel/communicator.h"

#include <barrier>
#include <thread>
#include <type_traits>
#include <vector>

namespace holdtrue::parallel::testing {

// [rank]: work(communicator) as that rank sees it.
template <class Work>
auto on_ranks(int count, const Work& work) {
    struct Shared {
        std::vector<std::string> texts;
        std::barrier<> meet;
    } shared{std::vector<std::string>(static_cast<std::size_t>(count)), std::barrier<>(count)};

    class ThreadRank final : public Communicator {
    public:
        ThreadRank(int rank, Shared& shared) : rank_(rank), shared_(&shared) {}
        int rank() const override { return rank_; }
        int size() const override { return static_cast<int>(shared_->texts.size()); }
        int cores() const override { return 1; }
        std::vector<std::string> all_gather(const std::string& own) override {
            shared_->texts[static_cast<std::size_t>(rank_)] = own;
            shared_->meet.arrive_and_wait();
            std::vector<std::string> all = shared_->texts;
            shared_->meet.arrive_and_wait(); // nobody writes the next before all have read this
            return all;
        }

    private:
        int rank_;
        Shared* shared_;
    };

    std::vector<std::invoke_result_t<Work, Communicator&>> results(static_cast<std::size_t>(count));
    std::vector<std::jthread> threads;
    for (int rank = 0; rank < count; ++rank)
        threads.emplace_back([&, rank] {
            ThreadRank communicator(rank, shared);
            results[static_cast<std::size_t>(rank)] = work(communicator);
        });
    threads.clear();
    return results;
}

} // namespace holdtrue::parallel::testing
