#include "command_line/interrupt.h"

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

} // namespace

InterruptWatch::InterruptWatch() {
    const sigset_t set = stop_signals();
    pthread_sigmask(SIG_BLOCK, &set, nullptr);
    watcher_ = std::jthread([stop = stop_](std::stop_token ended) mutable {
        const sigset_t wanted = stop_signals();
        const timespec tenth{0, 100'000'000};
        while (!ended.stop_requested())
            if (sigtimedwait(&wanted, nullptr, &tenth) > 0)
                stop.request_stop();
    });
}

InterruptWatch::~InterruptWatch() {
    watcher_.request_stop();
    watcher_.join();
    const sigset_t set = stop_signals();
    pthread_sigmask(SIG_UNBLOCK, &set, nullptr);
}

} // namespace holdtrue::command_line
