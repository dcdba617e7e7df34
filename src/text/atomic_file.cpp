#include "text/atomic_file.h"

#include "text/input_error.h"
#include "text/system_words.h"
#include "text/writable_target.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <string>

namespace holdtrue::text {
namespace {

[[noreturn]] void fail(const std::filesystem::path& path, int error) {
    throw InputError(path.string(), 0,
                     {worded("cannot be written: {0}"), {system_words({error, std::generic_category()})}},
                     error == ENOSPC ? worded("free some space and try again")
                                     : worded("choose a folder that exists and that you may write to"));
}

// Beside the target, so that renaming stays on one file system; the process id keeps two writers apart.
std::filesystem::path temporary_beside(const std::filesystem::path& path) {
    return path.parent_path() / ("." + path.filename().string() + "." + std::to_string(::getpid()) + ".part");
}

void replace(const std::filesystem::path& temporary, const std::filesystem::path& path) {
    // The content has to be on the disk before the name points to it.
    const int file = ::open(temporary.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0)
        fail(path, errno);
    const int synced = ::fsync(file);
    const int error = errno;
    ::close(file);
    if (synced != 0)
        fail(path, error);
    if (::rename(temporary.c_str(), path.c_str()) != 0)
        fail(path, errno);
}

} // namespace

void write_atomically(const std::filesystem::path& path,
                      const std::function<void(const std::filesystem::path&)>& write) {
    const std::filesystem::path target = writable_target(path), temporary = temporary_beside(target);
    try {
        write(temporary);
        replace(temporary, target);
    } catch (...) {
        ::unlink(temporary.c_str());
        throw;
    }
}

void write_atomically(const std::filesystem::path& path, std::string_view content) {
    write_atomically(path, [&](const std::filesystem::path& temporary) {
        const int file = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
        if (file < 0)
            fail(path, errno);
        while (!content.empty()) {
            const ssize_t written = ::write(file, content.data(), content.size());
            if (written < 0 && errno == EINTR)
                continue;
            if (written < 0) {
                const int error = errno;
                ::close(file);
                fail(path, error);
            }
            content.remove_prefix(static_cast<std::size_t>(written));
        }
        if (::close(file) != 0)
            fail(path, errno);
    });
}

} // namespace holdtrue::text
