// Completion scripts and manual page, tried in the shells themselves where those are installed.
#include "command_line/program.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>
#include <string>
#include <vector>

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

TEST_CASE("bash completes commands, flags, and values: fixed words, and what ships by its name") {
    // In a folder with one file, so that no other comes between.
    const std::filesystem::path folder = std::filesystem::temp_directory_path() / "holdtrue_completed";
    std::filesystem::create_directories(folder);
    write(folder / "a_file", "");
    write(folder / ".script", run_program("describe bash").output);
    const auto completed = [&](const std::string& words) {
        return shell("cd '" + folder.string() + "' && bash -c '. ./.script; set -- " + words +
                     "; COMP_WORDS=(holdtrue \"$@\"); COMP_CWORD=$#; _holdtrue; echo \"${COMPREPLY[*]}\"'");
    };
    struct Case {
        const char *words, *offered;
    };
    constexpr Case cases[]{
        {"les", "lesson"},
        {"record \"\"", "list export recompute backup restore trainee"},
        {"record trainee r", "rename remove"},
        {"record export --f", "--format"},
        {"lesson --fi", "--figure --file"},
        {"class lift_arm folder --units m", "metric"},
        {"class --units = i", "imperial"}, // bash takes --units=i apart like that
        {"weld lift_arm --paper \"\"", "a4 letter"},
        {"record export --format \"\"", "csv json xapi"},
        {"order lift_arm --method b", "beam"},
        {"setup --joint b", "butt"},
        {"setup --process 13", "135 131 136"},
        {"describe \"\"", "bash zsh fish man"},
        {"class lift", "lift_arm lift_arm_seams"},
        {"weld --units metric lift_arm_", "lift_arm_seams"},
        {"hint lift_arm a", "a_file"}, // the plan is a file
        {"class lift_arm folder --csv a", "a_file"},
        {"order --plan a_file ribbed_deck_", "ribbed_deck_cool"},
        {"new exercise mine --part rib", "ribbed_deck"},
        {"new exercise mine --shop rookwood_v", "rookwood_van"},
        {"lesson ord", "order"},
    };
    for (const Case& one : cases) {
        INFO(one.words);
        CHECK(completed(one.words) == std::string(one.offered) + "\n");
    }
    std::filesystem::remove_all(folder);
}

TEST_CASE("every word that completion offers for a flag of setup is one that setup takes") {
    std::istringstream script(run_program("describe bash").output);
    std::string line;
    int tried = 0;
    while (std::getline(script, line)) {
        const std::size_t flag = line.find("' setup --"), words = line.find("words='");
        if (flag == std::string::npos || words == std::string::npos)
            continue;
        const std::string name = line.substr(flag + 8, line.find("')") - flag - 8);
        if (name == "--paper" || name == "--shop")
            continue;
        std::istringstream list(line.substr(words + 7, line.find('\'', words + 7) - words - 7));
        for (std::string word; list >> word; ++tried) {
            const std::string said = run_program("setup --t1 3 " + name + ' ' + word).output;
            CHECK_MESSAGE(said.find("is not known") == std::string::npos, name << ' ' << word << ": " << said);
        }
    }
    CHECK(tried > 20);
}

TEST_CASE("exercises, parts and shops that ship are found by name, and a misspelt name is told the nearest") {
    const ShippedCopy copy;
    const std::string here = "cd '" + copy.folder().string() + "' && ";
    CHECK(run_shell(here + program + " handout tee_coupon -o a.handout.zip").exit_code == 0);
    const Ran misspelt = run_shell(here + program + " handout tee_cupon -o b.handout.zip");
    CHECK(misspelt.exit_code == 2);
    CHECK_MESSAGE(misspelt.output.find("did you mean \"tee_coupon\"?") != std::string::npos, misspelt.output);
    CHECK(run_shell(here + program + " new exercise mine --part rail_frame --shop rookwood_van").exit_code == 0);
    CHECK(content_of(copy.folder() / "mine.exercise.toml").find("rail_frame.part.toml\"") != std::string::npos);
    // One's own file comes before one that ships.
    write(copy.folder() / "lap_strip.exercise.toml", "title = [\n");
    const Ran own = run_shell(here + program + " handout lap_strip -o c.handout.zip");
    CHECK(own.exit_code == 2);
    CHECK_MESSAGE(own.output.find("lap_strip.exercise.toml:") != std::string::npos, own.output);
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

namespace {

// The commands and the long flags of a command, as its --help lists them.
struct Help {
    explicit Help(const std::string& command) {
        std::istringstream lines(run_program(command + " --help").output);
        std::string line, section;
        while (std::getline(lines, line)) {
            if (line.ends_with(':') && line.front() != ' ')
                section = line;
            else if (section == "Subcommands:" && line.starts_with("  ") && line[2] != ' ')
                commands.push_back(command + (command.empty() ? "" : " ") + line.substr(2, line.find(' ', 2) - 2));
            else if (section == "Options:" && line.starts_with("  -")) {
                const std::size_t at = line.find("--");
                flags.push_back(line.substr(at, line.find_first_of(" ,", at) - at));
            }
        }
    }
    std::vector<std::string> commands, flags;
};

} // namespace

TEST_CASE("the manual page has every command and every flag that --help lists, each in its place") {
    const std::string page = run_program("describe man").output;
    const auto section = [&](const std::string& heading) {
        const std::size_t from = page.find(heading);
        if (from == std::string::npos)
            return std::string();
        const std::size_t to = std::min(page.find("\n.SS", from + 1), page.find("\n.SH", from + 1));
        return page.substr(from, to - from);
    };
    std::vector<std::string> commands{""};
    int flags = 0;
    for (std::size_t k = 0; k < commands.size(); ++k) {
        const Help help(commands[k]);
        commands.insert(commands.end(), help.commands.begin(), help.commands.end());
        const std::string told = section(commands[k].empty() ? ".SH OPTIONS" : ".SS holdtrue " + commands[k]);
        CHECK_MESSAGE(!told.empty(), commands[k]);
        for (std::string flag : help.flags) {
            for (std::size_t at = flag.find('-'); at != std::string::npos; at = flag.find('-', at + 2))
                flag.insert(at, 1, '\\');
            CHECK_MESSAGE(told.find("\\fB" + flag + "\\fR") != std::string::npos, commands[k] << ' ' << flag);
            ++flags;
        }
    }
    CHECK(commands.size() > 25);
    CHECK(flags > 100);
}

TEST_CASE("groff formats the manual page without a complaint") {
    if (installed("groff"))
        CHECK(shell(program + " describe man | groff -man -ww -Tutf8 -z").empty());
    if (installed("mandoc"))
        CHECK(shell(program + " describe man | mandoc -Tlint -Werror").empty());
}

TEST_CASE("the manual page names every command with its flags") {
    const std::string page = run_program("describe man").output;
    CHECK(page.starts_with(".TH HOLDTRUE 1"));
    for (const char* words : {".SH NAME", ".SS holdtrue lesson", ".SS holdtrue record trainee add NAME", "\\-\\-quiz",
                              ".SH EXAMPLES", ".SH EXIT STATUS", ".SH FILES", "XDG_DATA_HOME", "XDG_CONFIG_HOME",
                              "XDG_CACHE_HOME", "HOLDTRUE_ASSETS", "record.sqlite", ".TP\n130\n"})
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
}
