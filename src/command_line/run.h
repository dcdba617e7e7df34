// The command line: parses it, runs the command it names, and turns every error into one line and exit code 2.
#pragma once

#include <filesystem>
#include <optional>

namespace holdtrue::command_line {

// What to show when no command was named and so the window opens.
struct WindowRequest {
    std::optional<std::filesystem::path> open;       // exercise or plan
    std::optional<std::filesystem::path> script;     // actions to replay
    std::optional<std::filesystem::path> screenshot; // PNG to save after the script, then quit
    int width = 0, height = 0;                       // 0: as the window was left
    double scale = 0;                                // 0: as the screen says
};

struct Result {
    std::optional<int> exit_code; // set: leave with it; not set: open the window
    WindowRequest window;
};
Result run(int argc, const char* const* argv);

} // namespace holdtrue::command_line
