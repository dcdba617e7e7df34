#include "text/atomic_file.h"
#include "text/input_error.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>

using holdtrue::text::InputError;
using holdtrue::text::write_atomically;

namespace {

std::string content_of(const std::filesystem::path& path) {
    std::ostringstream all;
    all << std::ifstream(path).rdbuf();
    return all.str();
}

struct TemporaryFolder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("holdtrue_atomic_file_test." + std::to_string(::getpid()));
    TemporaryFolder() {
        std::filesystem::remove_all(path);
        std::filesystem::create_directories(path);
    }
    ~TemporaryFolder() { std::filesystem::remove_all(path); }
};

} // namespace

TEST_CASE("a failed write leaves the old content and nothing else") {
    const TemporaryFolder folder;
    const auto file = folder.path / "a.json";
    write_atomically(file, "old");
    CHECK_THROWS_AS(write_atomically(file,
                                     [](const std::filesystem::path& temporary) {
                                         std::ofstream(temporary) << "half";
                                         throw std::runtime_error("stopped");
                                     }),
                    std::runtime_error);
    CHECK(content_of(file) == "old");
    CHECK(std::distance(std::filesystem::directory_iterator(folder.path), {}) == 1);
    write_atomically(file, "new");
    CHECK(content_of(file) == "new");
}

TEST_CASE("a folder that is not there is an input error") {
    const TemporaryFolder folder;
    CHECK_THROWS_AS(write_atomically(folder.path / "no" / "a.json", "x"), InputError);
}

TEST_CASE("a full disk is an input error and leaves nothing behind") {
    if (std::filesystem::exists("/dev/full")) // writing to it fails with ENOSPC
        CHECK_THROWS_AS(write_atomically("/dev/full/x", "x"), InputError);
}
