#include "command_line/run.h"

#include "command_line/commands.h"
#include "parallel/world.h"
#include "text/input_error.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <string_view>

namespace holdtrue::command_line {

Result run(int argc, const char* const* argv) {
    Result result;
    int exit_code = 0;
    WindowRequest& window = result.window;

    CLI::App program{"Holdtrue: practise weld order and machine settings on a simulated part.\n"
                     "Without a command the window opens.",
                     "holdtrue"};
    program.set_version_flag("--version", HOLDTRUE_VERSION);
    // Without a file too: a desktop starts it as its entry says, less the file where none was clicked.
    program.add_option("--open", window.open, "an exercise or plan to open in the window")->expected(0, 1);
    program.add_option("--script", window.script, "replay window actions from a file");
    program.add_option("--screenshot", window.screenshot, "save a picture of the window after the script, then quit");
    program.add_option("--width", window.width, "width of the window in pixels; by default as it was left")
        ->check(CLI::Range(640, 7680));
    program.add_option("--height", window.height, "height of the window in pixels; by default as it was left")
        ->check(CLI::Range(480, 4320));
    program.add_option("--scale", window.scale, "size of text and controls, 1 to 2.5")->check(CLI::Range(1.0, 2.5));
    program.require_subcommand(0, 1);
    program.footer("Examples:\n"
                   "  holdtrue\n"
                   "  holdtrue --open arm.exercise.toml\n"
                   "  holdtrue weld arm.exercise.toml my.plan.toml --report my.pdf\n"
                   "'holdtrue COMMAND --help' says more of each.");

    add_check(program, exit_code);
    add_describe(program, exit_code);
    add_lesson(program, exit_code);
    add_record(program, exit_code);
    add_new(program, exit_code);
    add_rules(program, exit_code);
    add_setup(program, exit_code);
    add_solve(program, exit_code);
    add_order(program, exit_code);
    add_spread(program, exit_code);
    add_hand_out(program, exit_code);
    add_unpack(program, exit_code);
    add_hint(program, exit_code);
    add_hand_in(program, exit_code);
    add_class(program, exit_code);
    add_weld(program, exit_code);

    // Started by mpirun, the commands that share their work run on every rank; all else is for rank 0. It alone prints,
    // and it alone says by its exit code that the input is wrong, which all ranks find alike: mpirun ends the others as
    // soon as one fails, and rank 0 might not have printed yet.
    const bool leads = parallel::launched_rank() == 0;
    const std::string_view command = argc > 1 ? argv[1] : "";
    if (!leads)
        result.exit_code = 0;
    if (!leads && command != "order" && command != "class")
        return result;
    try {
        program.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        if (!leads)
            return result;
        if (error.get_exit_code() == 0) { // --help, --version
            result.exit_code = program.exit(error);
            return result;
        }
        std::fprintf(stderr, "%s; see 'holdtrue %s--help'\n", error.what(),
                     program.get_subcommands().empty() ? "" : (program.get_subcommands()[0]->get_name() + " ").c_str());
        result.exit_code = 2;
        return result;
    } catch (const text::InputError& error) {
        if (!leads)
            return result;
        std::fprintf(stderr, "%s\n", error.what());
        result.exit_code = 2;
        return result;
    } catch (const std::filesystem::filesystem_error& error) { // a loop of links, a name too long
        if (!leads)
            return result;
        const text::Problem told{error.path1().string(), 0,
                                 text::in_english("cannot be used: " + error.code().message()),
                                 text::in_english("check the name, and each folder and link in it")};
        std::fprintf(stderr, "%s\n", text::to_line(told).c_str());
        result.exit_code = 2;
        return result;
    }
    if (!program.get_subcommands().empty())
        result.exit_code = exit_code;
    return result;
}

} // namespace holdtrue::command_line
