// Runs the built program as a user would.
#pragma once

#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace holdtrue::test {

struct Ran {
    int exit_code = -1; // -1: ended by a signal; 130: by a stop
    std::string output; // standard output and standard error
};

inline Ran run_shell(const std::string& command) {
    Ran ran;
    std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
    if (!pipe)
        return ran;
    std::array<char, 4096> buffer;
    for (std::size_t got; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;)
        ran.output.append(buffer.data(), got);
    const int status = ::pclose(pipe);
    if (WIFEXITED(status) && (WEXITSTATUS(status) < 126 || WEXITSTATUS(status) == 130))
        ran.exit_code = WEXITSTATUS(status);
    return ran;
}

inline Ran run_program(const std::string& arguments) {
    return run_shell(std::string("'") + HOLDTRUE_PROGRAM + "' " + arguments);
}

inline std::string content_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

// A folder of its own for one test, with the shipped files laid out as in the source tree; removed at the end.
class ShippedCopy {
public:
    ShippedCopy() {
        const std::filesystem::path source = HOLDTRUE_SOURCE_DIR;
        folder_ = std::filesystem::temp_directory_path() / ("holdtrue_test_" + std::to_string(::getpid()));
        std::filesystem::remove_all(folder_);
        for (const char* part : {"assets/parts", "assets/shops", "lessons/exercises"}) {
            std::filesystem::create_directories(folder_ / part);
            std::filesystem::copy(source / part, folder_ / part, std::filesystem::copy_options::recursive);
        }
    }
    ~ShippedCopy() { std::filesystem::remove_all(folder_); }
    ShippedCopy(const ShippedCopy&) = delete;
    ShippedCopy& operator=(const ShippedCopy&) = delete;

    std::filesystem::path find(const std::string& name) const {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(folder_))
            if (entry.path().filename() == name)
                return entry.path();
        return folder_ / name;
    }
    const std::filesystem::path& folder() const { return folder_; }

private:
    std::filesystem::path folder_;
};

inline void write(const std::filesystem::path& file, const std::string& content) {
    std::ofstream(file, std::ios::binary) << content;
}

} // namespace holdtrue::test
