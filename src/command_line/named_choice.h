// --units metric: options whose value is one of a few words.
#pragma once

#include <CLI/CLI.hpp>

#include <map>
#include <string>
#include <vector>

namespace holdtrue::command_line {

// As the name of an option's type it tells help, completion and manual page what the option may be.
inline std::string one_of_type(const std::vector<std::string>& words) { return CLI::detail::generate_set(words); }

template <class T>
CLI::Option* add_named_choice(CLI::App& command, const std::string& name, T& value, std::map<std::string, T> named,
                              const std::string& description) {
    std::vector<std::string> words;
    for (const auto& [word, meaning] : named)
        words.push_back(word);
    return command
        .add_option_function<std::string>(
            name, [&value, named = std::move(named)](const std::string& word) { value = named.at(word); }, description)
        ->check(CLI::IsMember(words));
}

} // namespace holdtrue::command_line
