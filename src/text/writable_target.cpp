#include "text/writable_target.h"

#include "text/input_error.h"
#include "text/system_words.h"

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
            throw InputError(path.string(), 0, worded("is a link that leads nowhere"),
                             worded("remove it or name another file"));
        return path;
    case fs::file_type::none: // a loop of links, a name too long, a folder that may not be looked into
        throw InputError(path.string(), 0, {worded("cannot be written: {0}"), {system_words(error)}},
                         worded("choose a folder that exists and that you may write to"));
    case fs::file_type::directory:
        throw InputError(path.string(), 0, worded("is a folder"), worded("name a file to be written"));
    default:
        throw InputError(path.string(), 0, worded("is a pipe or a device"), worded("name a file to be written"));
    }
}

} // namespace holdtrue::text
