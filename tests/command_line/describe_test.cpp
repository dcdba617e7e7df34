// Completion scripts and manual page, tried in the shells themselves where those are installed.
#include "command_line/program.h"

#include <doctest/doctest.h>

#include <cstdlib>
#include <sstream>
#include <string>

using namespace holdtrue::test;

namespace {

bool installed(const std::string& tool) {
    return std::system(("command -v " + tool + " >/dev/null 2>&1").c_str()) == 0;
}

std::string shell(const std::string& command) {
    std::string output;
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    REQUIRE(pipe != nullptr);
    char buffer[4096];
    for (std::size_t got; (got = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;)
        output.append(buffer, got);
    ::pclose(pipe);
    return output;
}

const std::string program = std::string("'") + HOLDTRUE_PROGRAM + "'";

} // namespace

TEST_CASE("bash completes commands, commands below them, and flags") {
    const auto completed = [](const std::string& words) {
        return shell("bash -c '. <(" + std::string(HOLDTRUE_PROGRAM) + " describe bash); set -- " + words +
                     "; COMP_WORDS=(holdtrue \"$@\"); COMP_CWORD=$#; _holdtrue; echo \"${COMPREPLY[*]}\"'");
    };
    CHECK(completed("les") == "lesson\n");
    CHECK(completed("record \"\"") == "list export recompute backup restore trainee\n");
    CHECK(completed("record trainee r") == "rename remove\n");
    CHECK(completed("record export --f") == "--format\n");
    CHECK(completed("lesson --fi") == "--figure --file\n");
}

TEST_CASE("zsh and fish take their scripts") {
    if (installed("zsh"))
        CHECK(shell(program + " describe zsh > /dev/null && " + program + " describe zsh | zsh -n /dev/stdin").empty());
    if (installed("fish")) {
        CHECK(shell(program + " describe fish | fish -n /dev/stdin").empty());
        CHECK(shell("fish -c '" + std::string(HOLDTRUE_PROGRAM) +
                    " describe fish | source; complete -C \"holdtrue record ba\"'")
                  .starts_with("backup"));
    }
}

TEST_CASE("the manual page names every command with its flags") {
    const std::string page = run_program("describe man").output;
    CHECK(page.starts_with(".TH HOLDTRUE 1"));
    for (const char* words : {".SH NAME", ".SS holdtrue lesson", ".SS holdtrue record trainee add NAME", "\\-\\-quiz",
                              ".SH EXIT STATUS", "XDG_DATA_HOME"})
        CHECK_MESSAGE(page.find(words) != std::string::npos, words);
    // A command that --help lists is in the page.
    const std::string help = run_program("--help").output;
    const std::size_t from = help.find("Subcommands:");
    REQUIRE(from != std::string::npos);
    std::istringstream lines(help.substr(help.find('\n', from) + 1));
    std::string line;
    int commands = 0;
    while (std::getline(lines, line) && line.starts_with("  "))
        if (const std::string name = line.substr(2, line.find(' ', 2) - 2); !name.empty()) {
            ++commands;
            CHECK_MESSAGE(page.find(".SS holdtrue " + name) != std::string::npos, name);
            const std::string of_command = run_program(name + " --help").output;
            const bool example = of_command.find("\n  holdtrue " + name) != std::string::npos ||
                                 of_command.find("Example: holdtrue " + name) != std::string::npos ||
                                 of_command.find("(holdtrue " + name) != std::string::npos;
            CHECK_MESSAGE(example, name << " --help shows no example");
        }
    CHECK(commands >= 4);
    if (installed("mandoc"))
        CHECK(shell(program + " describe man | mandoc -Tlint -Werror").empty());
}
