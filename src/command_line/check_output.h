// What can be refused is refused before long work starts.
#pragma once

#include <filesystem>

namespace holdtrue::command_line {

// Throws InputError if no file of this name can be written: its folder is not there, it is a folder, or no rights.
void check_output(const std::filesystem::path& file);

} // namespace holdtrue::command_line
