#include "command_line/check_output.h"

#include "text/input_error.h"
#include "text/writable_target.h"

#include <unistd.h>

namespace holdtrue::command_line {

void check_output(const std::filesystem::path& file) {
    const auto folder = file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
    std::error_code ignored; // a loop of links, a name too long: no folder either
    if (!std::filesystem::is_directory(folder, ignored))
        throw text::InputError(file.string(), 0, text::in_english("folder " + folder.string() + " is not there"),
                               text::in_english("make the folder first or name another place"));
    text::writable_target(file);
    if (::access(folder.c_str(), W_OK | X_OK) != 0)
        throw text::InputError(file.string(), 0,
                               text::in_english("folder " + folder.string() + " cannot be written to"),
                               text::in_english("name a place where you may write"));
}

} // namespace holdtrue::command_line
