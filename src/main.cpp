#include "command_line/run.h"

#ifdef HOLDTRUE_WINDOW
#include "app/window.h"
#else
#include <cstdio>
#endif

int main(int argc, char** argv) {
    const holdtrue::command_line::Result result = holdtrue::command_line::run(argc, argv);
    if (result.exit_code)
        return *result.exit_code;
#ifdef HOLDTRUE_WINDOW
    return holdtrue::app::run_window(result.window);
#else
    std::fprintf(stderr, "this build has no window; name a command, see 'holdtrue --help'\n");
    return 2;
#endif
}
