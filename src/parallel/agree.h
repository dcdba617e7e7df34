// Decisions that all ranks have to take alike, or they would wait for each other for ever.
#pragma once

#include "parallel/communicator.h"
#include "parallel/message.h"
#include "parallel/share_out.h"
#include "text/input_error.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace holdtrue::text {
template <parallel::Is<Problem> P>
auto fields(P& problem) {
    auto& [file, line, what, fix] = problem;
    return std::tie(file, line, what, fix);
}
} // namespace holdtrue::text

namespace holdtrue::parallel {

// Whether `here` holds on any rank. Collective.
inline bool any(Communicator& communicator, bool here) {
    return std::ranges::any_of(communicator.all_gather(here ? "1" : "0"),
                               [](const std::string& answer) { return answer == "1"; });
}

inline bool any(const Workers& workers, bool here) {
    return workers.communicator ? any(*workers.communicator, here) : here;
}

// What `read` returns, if it throws InputError on no rank; otherwise all ranks throw that of the lowest rank.
// Collective.
template <class Read>
std::invoke_result_t<Read> agreed(Communicator& communicator, const Read& read) {
    std::optional<std::invoke_result_t<Read>> result;
    Writer own;
    try {
        result.emplace(read());
        own.put(std::vector<text::Problem>());
    } catch (const text::InputError& error) {
        own.put(error.problems());
    }
    for (const std::string& message : communicator.all_gather(own.bytes())) {
        std::vector<text::Problem> problems;
        Reader(message).get(problems);
        if (!problems.empty())
            throw text::InputError(std::move(problems));
    }
    return std::move(*result);
}

// Throws InputError on all ranks if they do not all hold the same content of `file`. Collective.
inline void check_same(Communicator& communicator, const std::string& file, const std::string& content) {
    const std::vector<std::string> all = communicator.all_gather(content);
    if (std::ranges::any_of(all, [&](const std::string& other) { return other != all.front(); }))
        throw text::InputError(file, 0, text::in_english("is not the same on all machines"),
                               text::in_english("keep it where all of them see it under this name"));
}

} // namespace holdtrue::parallel
