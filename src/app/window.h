// Opens the window and runs it until it is closed. Returns the exit code: 0, or 2 when no window can be opened.
#pragma once

#include "command_line/run.h"

namespace holdtrue::app {

int run_window(const command_line::WindowRequest& request);

} // namespace holdtrue::app
