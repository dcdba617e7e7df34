// An argument that is a file, or the short name of one: "lift_arm" is lift_arm.exercise.toml of the working folder, or
// else the one that ships with the program.
#pragma once

#include <CLI/CLI.hpp>

#include <filesystem>
#include <string>
#include <vector>

namespace holdtrue::command_line {

enum class FileKind { exercise, part, shop };
const char* word_of(FileKind kind); // "exercise"

bool is_shipped(const std::filesystem::path& file);    // whether it lies in one of the program's own folders
std::vector<std::string> shipped_names(FileKind kind); // in order
// The file that `given` is or names; what is neither comes back as it is. Throws text::InputError for a mere word that
// names none.
std::string file_of(FileKind kind, const std::string& given);

template <class T>
CLI::Option* add_file(CLI::App& command, const std::string& name, T& target, FileKind kind,
                      const std::string& description) {
    const auto find = [kind](std::string& given) {
        given = file_of(kind, given);
        return std::string();
    };
    return command.add_option(name, target, description + ", or the name of one that ships with the program")
        ->transform(CLI::Validator(find, ""))
        ->type_name(word_of(kind));
}

} // namespace holdtrue::command_line
