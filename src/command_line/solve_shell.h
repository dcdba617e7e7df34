// `holdtrue solve` for cases of kind "shell".
#pragma once

#include "text/toml_reader.h"

#include <filesystem>

namespace holdtrue::command_line {

// Prints the probes, writes everything to `json_file` unless that is empty; the exit code.
int solve_shell(text::Document& document, const std::filesystem::path& json_file);

} // namespace holdtrue::command_line
