// Whether files on disk have changed since they were read: by time of the last write and by size, looked at when asked.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

namespace holdtrue::app {

class WatchedFiles {
public:
    // From now on these; files that are not there are watched too, for they may come.
    void watch(std::vector<std::filesystem::path> files);
    // Files that changed since they were watched or since this was asked last. A file that is gone has not changed:
    // many editors save by putting a new one in its place.
    std::vector<std::filesystem::path> changed();

private:
    struct Stamp {
        std::filesystem::file_time_type written;
        std::uintmax_t size = 0;
        bool operator==(const Stamp&) const = default;
    };
    struct Watched {
        std::filesystem::path file;
        Stamp stamp;
    };
    static Stamp stamp_of(const std::filesystem::path& file); // default when it is not there
    std::vector<Watched> watched_;
};

} // namespace holdtrue::app
