#include "command_line/interrupt.h"

#include <chrono>
#include <csignal>
#include <ctime>

namespace holdtrue::command_line {
namespace {

sigset_t stop_signals() {
    sigset_t set;
    sigemptyset(&set);
    sigaddset(&set, SIGINT);
    sigaddset(&set, SIGTERM);
    sigaddset(&set, SIGUSR1);
    return set;
}

using Clock = std::chrono::steady_clock;
constexpr std::chrono::seconds meant_twice(1); // a signal to a process and to its group comes twice

void end_at_once(int signal) {
    std::signal(signal, SIG_DFL);
    sigset_t set;
    sigemptyset(&set);
    sigaddset(&set, signal);
    pthread_sigmask(SIG_UNBLOCK, &set, nullptr);
    std::raise(signal);
}

} // namespace

InterruptWatch::InterruptWatch() {
    const sigset_t set = stop_signals();
    pthread_sigmask(SIG_BLOCK, &set, nullptr);
    watcher_ = std::jthread([stop = stop_](std::stop_token ended) mutable {
        const sigset_t wanted = stop_signals();
        const timespec tenth{0, 100'000'000};
        Clock::time_point asked;
        while (!ended.stop_requested()) {
            const int signal = sigtimedwait(&wanted, nullptr, &tenth);
            if (signal <= 0)
                continue;
            if (stop.request_stop())
                asked = Clock::now();
            else if (Clock::now() - asked > meant_twice)
                end_at_once(signal);
        }
    });
}

InterruptWatch::~InterruptWatch() {
    watcher_.request_stop();
    watcher_.join();
    const sigset_t set = stop_signals();
    pthread_sigmask(SIG_UNBLOCK, &set, nullptr);
}

} // namespace holdtrue::command_line
