#include "command_line/progress_bar.h"

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>

namespace holdtrue::command_line {

ProgressBar::ProgressBar(std::function<double()> share, std::function<std::string()> what) {
    if (!::isatty(STDERR_FILENO))
        return;
    painter_ = std::jthread([share = std::move(share), what = std::move(what)](std::stop_token ended) {
        constexpr int width = 30;
        while (!ended.stop_requested()) {
            const double done = std::clamp(share(), 0.0, 1.0);
            const int full = static_cast<int>(done * width);
            std::fprintf(stderr, "\r[%s%s] %3.0f %%  %s\x1b[K",
                         std::string(static_cast<std::size_t>(full), '#').c_str(),
                         std::string(static_cast<std::size_t>(width - full), ' ').c_str(), 100 * done, what().c_str());
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
        }
        std::fprintf(stderr, "\r\x1b[K");
    });
}

ProgressBar::~ProgressBar() = default;

} // namespace holdtrue::command_line
