// Ctrl-C (and a polite kill) as a stop request: long work ends at its next step, nothing is left half-written. SIGUSR1
// asks for the same: it is what mpirun hands on to all ranks without ending them itself, as it does after Ctrl-C. Asked
// again, a second or more later, the process ends at once.
#pragma once

#include <stop_token>
#include <thread>

namespace holdtrue::command_line {

inline constexpr int exit_interrupted = 130; // 128 + SIGINT, as shells expect

// While it lives, SIGINT, SIGTERM and SIGUSR1 no longer end the process but request a stop. Make it before other
// threads, so that they inherit the blocked signals.
class InterruptWatch {
public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;

    std::stop_token token() const { return stop_.get_token(); }
    bool interrupted() const { return stop_.stop_requested(); }

private:
    std::stop_source stop_;
    std::jthread watcher_;
};

} // namespace holdtrue::command_line
