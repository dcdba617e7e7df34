// Independent pieces of work, shared out to the threads of this process and to the ranks of a run.
#pragma once

#include "parallel/communicator.h"
#include "parallel/message.h"

#include <algorithm>
#include <atomic>
#include <functional>
#include <thread>
#include <type_traits>
#include <vector>

namespace holdtrue::parallel {

// Calls work(k) for k = 0 .. count-1 on `threads` threads; each k goes to whichever thread is free.
inline void share_out(int count, int threads, const std::function<void(int)>& work) {
    std::atomic<int> next{0};
    const auto run = [&] {
        for (int k = next++; k < count; k = next++)
            work(k);
    };
    std::vector<std::jthread> helpers;
    for (int k = 1; k < std::min(threads, count); ++k)
        helpers.emplace_back(run);
    run();
}

// Who does a piece of work: threads of this process, and as many of every other rank.
struct Workers {
    // NOLINTNEXTLINE: a number of threads is the usual case
    Workers(int thread_count = 1, Communicator* ranks = nullptr) : threads(thread_count), communicator(ranks) {}
    int ranks() const { return communicator ? communicator->size() : 1; }

    int threads;
    Communicator* communicator; // null: this process alone; borrowed
};

// [k]: work(k) for k = 0 .. count-1. Rank r computes k = r, r + ranks, ...; all ranks get all results. Collective.
// Results need to be known to parallel/message.h and to have a default value.
template <class Work>
std::vector<std::invoke_result_t<Work, int>> gather(const Workers& workers, int count, const Work& work) {
    using Result = std::invoke_result_t<Work, int>;
    static_assert(!std::is_same_v<Result, bool>, "threads cannot write next to each other in a std::vector<bool>");
    std::vector<Result> results(static_cast<std::size_t>(count));
    const auto at = [&results](int k) -> Result& { return results[static_cast<std::size_t>(k)]; };
    const int ranks = workers.ranks(), own = ranks > 1 ? workers.communicator->rank() : 0;
    share_out((count - own + ranks - 1) / ranks, workers.threads,
              [&](int k) { at(own + k * ranks) = work(own + k * ranks); });
    if (ranks == 1)
        return results;
    Writer writer;
    for (int k = own; k < count; k += ranks)
        writer.put(at(k));
    const std::vector<std::string> messages = workers.communicator->all_gather(writer.bytes());
    for (int rank = 0; rank < ranks; ++rank) {
        if (rank == own)
            continue;
        Reader reader(messages[static_cast<std::size_t>(rank)]);
        for (int k = rank; k < count; k += ranks)
            reader.get(at(k));
        VERIFY(reader.at_end(), "ranks share out the same work");
    }
    return results;
}

} // namespace holdtrue::parallel
