// A bar on standard error while something long runs; silent where that is not a terminal.
#pragma once

#include <functional>
#include <string>
#include <thread>

namespace holdtrue::command_line {

class ProgressBar {
public:
    // `share` (0 to 1) and `what` are asked from the bar's own thread, ten times a second.
    ProgressBar(std::function<double()> share, std::function<std::string()> what);
    ~ProgressBar(); // wipes the bar

private:
    std::jthread painter_;
};

} // namespace holdtrue::command_line
