#include "text/writable_target.h"

#include "text/input_error.h"

#include <system_error>

namespace holdtrue::text {

std::filesystem::path writable_target(const std::filesystem::path& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    switch (status.type()) {
    case fs::file_type::regular:
        return fs::is_symlink(path, error) ? fs::canonical(path, error) : path;
    case fs::file_type::not_found:
        if (fs::is_symlink(path, error))
            throw InputError(path.string(), 0, "is a link that leads nowhere", "remove it or name another file");
        return path;
    case fs::file_type::none: // a loop of links, a name too long, a folder that may not be looked into
        throw InputError(path.string(), 0, "cannot be written: " + error.message(),
                         "choose a folder that exists and that you may write to");
    case fs::file_type::directory:
        throw InputError(path.string(), 0, "is a folder", "name a file to be written");
    default:
        throw InputError(path.string(), 0, "is a pipe or a device", "name a file to be written");
    }
}

} // namespace holdtrue::text
