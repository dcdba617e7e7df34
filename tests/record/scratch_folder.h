// A folder of the test's own, removed at its end.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <string>

struct ScratchFolder {
    std::filesystem::path path;
    explicit ScratchFolder(const std::string& name)
        : path(std::filesystem::temp_directory_path() / ("holdtrue_" + name + '.' + std::to_string(::getpid()))) {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~ScratchFolder() { std::filesystem::remove_all(path); }
};
