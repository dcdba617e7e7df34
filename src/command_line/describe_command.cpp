#include "command_line/commands.h"
#include "command_line/describe.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <memory>

namespace holdtrue::command_line {

void add_describe(CLI::App& program, int& exit_code) {
    CLI::App* command = program.add_subcommand("describe", "Writes a shell's completion script, or the manual page");
    auto what = std::make_shared<std::string>();
    command->add_option("WHAT", *what, "bash, zsh, fish or man")
        ->required()
        ->check(CLI::IsMember({"bash", "zsh", "fish", "man"}));
    command->footer("Examples:\n"
                    "  source <(holdtrue describe bash)     completion in this shell\n"
                    "  holdtrue describe man | man -l -     read the manual page");
    command->callback([what, &program, &exit_code] {
        const std::string text = *what == "bash"   ? bash_completion(program)
                                 : *what == "zsh"  ? zsh_completion(program)
                                 : *what == "fish" ? fish_completion(program)
                                                   : manual_page(program, HOLDTRUE_VERSION);
        std::fwrite(text.data(), 1, text.size(), stdout);
        exit_code = 0;
    });
}

} // namespace holdtrue::command_line
