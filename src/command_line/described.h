// What the program says of itself, for those who write it down: completion scripts and manual page.
#pragma once

#include <CLI/CLI.hpp>

#include <string>
#include <vector>

namespace holdtrue::command_line {

// A command with the words that lead to it: {"record", "trainee", "add"}.
struct Command {
    std::vector<std::string> path;
    const CLI::App* app;
};
std::vector<const CLI::App*> commands_of(const CLI::App& app);
std::vector<Command> all_commands(const CLI::App& program); // the program itself first

// What may stand for a value.
struct Values {
    std::vector<std::string> words;
    bool files = true; // besides, any file
};

struct Flag {
    std::vector<std::string> names; // "-o", "--out"
    bool takes_value;
    Values values;
    std::string description;
};
std::vector<Flag> flags_of(const CLI::App& app);

struct Place { // a positional
    std::string name;
    bool required, repeats;
    Values values;
    std::string description;
};
std::vector<Place> places_of(const CLI::App& app);

std::string replaced(std::string text, char what, const std::string& with);
std::string first_line(const std::string& text);
std::string joined(const std::vector<std::string>& words, const std::string& separator = " ");

} // namespace holdtrue::command_line
