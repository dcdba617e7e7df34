// A folder of the test's own, removed at its end. CTest runs cases side by side, each in a process of its own, and a
// case may want several at once: the name tells them apart.
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
    ScratchFolder(const ScratchFolder&) = delete;
    ScratchFolder& operator=(const ScratchFolder&) = delete;
    ~ScratchFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path, ignored);
    }
};
