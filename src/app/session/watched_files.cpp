#include "app/session/watched_files.h"

#include <system_error>

namespace holdtrue::app {

namespace fs = std::filesystem;

WatchedFiles::Stamp WatchedFiles::stamp_of(const fs::path& file) {
    std::error_code none;
    Stamp stamp;
    const auto written = fs::last_write_time(file, none);
    if (none)
        return {};
    stamp.written = written;
    stamp.size = fs::file_size(file, none);
    return none ? Stamp{} : stamp;
}

void WatchedFiles::watch(std::vector<fs::path> files) {
    watched_.clear();
    for (fs::path& file : files)
        if (!file.empty()) {
            const Stamp stamp = stamp_of(file);
            watched_.push_back({std::move(file), stamp});
        }
}

std::vector<fs::path> WatchedFiles::changed() {
    std::vector<fs::path> found;
    for (Watched& watched : watched_) {
        const Stamp now = stamp_of(watched.file);
        if (now == Stamp{} || now == watched.stamp)
            continue;
        watched.stamp = now;
        found.push_back(watched.file);
    }
    return found;
}

} // namespace holdtrue::app
