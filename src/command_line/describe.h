// Scripts for shells and the manual page, written from the commands and flags that the program has: they cannot fall
// behind it.
#pragma once

#include <string>

namespace CLI {
class App;
}

namespace holdtrue::command_line {

std::string bash_completion(const CLI::App& program);
std::string zsh_completion(const CLI::App& program);
std::string fish_completion(const CLI::App& program);
std::string manual_page(const CLI::App& program, const std::string& version); // troff, section 1

} // namespace holdtrue::command_line
