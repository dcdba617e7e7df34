// Calls work(k) for k = 0 .. count-1 on `threads` threads; each k goes to whichever thread is free.
#pragma once

#include <algorithm>
#include <atomic>
#include <functional>
#include <thread>
#include <vector>

namespace holdtrue::order {

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

} // namespace holdtrue::order
