#include "text/regular_file.h"

#include "text/input_error.h"

#include <system_error>

namespace holdtrue::text {

void require_regular_file(const std::filesystem::path& path) {
    std::error_code ignored;
    const std::filesystem::file_status status = std::filesystem::status(path, ignored);
    if (std::filesystem::is_regular_file(status))
        return;
    if (std::filesystem::is_directory(status))
        throw InputError(path.string(), 0, worded("is a folder"), worded("name a file"));
    if (!std::filesystem::exists(status))
        throw InputError(path.string(), 0, worded("cannot be read"), worded("check the name and that you may read it"));
    throw InputError(path.string(), 0, worded("cannot be read: it is a pipe or a device"),
                     worded("save its content as a file"));
}

} // namespace holdtrue::text
