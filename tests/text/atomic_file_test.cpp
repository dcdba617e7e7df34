#include "scratch_folder.h"
#include "text/atomic_file.h"
#include "text/input_error.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
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

} // namespace

TEST_CASE("a failed write leaves the old content and nothing else") {
    const ScratchFolder folder("atomic_file");
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

TEST_CASE("what is no file is not replaced by one") {
    namespace fs = std::filesystem;
    const ScratchFolder folder("atomic_file");
    const auto complaint = [](const fs::path& path) -> std::string {
        try {
            write_atomically(path, "x");
        } catch (const InputError& error) {
            return error.what();
        }
        return "";
    };
    const fs::path pipe = folder.path / "pipe";
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK(complaint(pipe).find("is a pipe or a device") != std::string::npos);
    CHECK(fs::is_fifo(pipe));
    CHECK(complaint(folder.path).find("is a folder") != std::string::npos);
    const fs::path loop = folder.path / "loop", nowhere = folder.path / "nowhere";
    fs::create_symlink("loop", loop);
    fs::create_symlink("gone", nowhere);
    CHECK(complaint(loop).find("cannot be written") != std::string::npos);
    CHECK(complaint(nowhere).find("leads nowhere") != std::string::npos);
    CHECK(fs::is_symlink(loop));
    CHECK(fs::is_symlink(nowhere));
    CHECK(complaint(folder.path / std::string(300, 'z')).find("too long") != std::string::npos);
    CHECK(std::distance(fs::directory_iterator(folder.path), {}) == 3);
}

TEST_CASE("a link stays, and the file that it leads to is written") {
    namespace fs = std::filesystem;
    const ScratchFolder folder("atomic_file");
    fs::create_directory(folder.path / "far");
    write_atomically(folder.path / "far/file", "old");
    fs::create_symlink("far/file", folder.path / "link");
    write_atomically(folder.path / "link", "new");
    CHECK(fs::is_symlink(folder.path / "link"));
    CHECK(content_of(folder.path / "far/file") == "new");
}

TEST_CASE("a folder that is not there is an input error") {
    const ScratchFolder folder("atomic_file");
    CHECK_THROWS_AS(write_atomically(folder.path / "no" / "a.json", "x"), InputError);
}

TEST_CASE("a full disk is an input error and leaves nothing behind") {
    if (std::filesystem::exists("/dev/full")) // writing to it fails with ENOSPC
        CHECK_THROWS_AS(write_atomically("/dev/full/x", "x"), InputError);
}
