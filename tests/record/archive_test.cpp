#include "raw_zip.h"
#include "record/archive.h"
#include "text/input_error.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <random>

using namespace holdtrue;
using record::PackedFile;
using test::RawEntry;

namespace {

std::string complaint(const std::string& bytes, const record::ArchiveLimits& limits = {}) {
    try {
        record::unpack(bytes, "x.zip", limits);
    } catch (const text::InputError& error) {
        CHECK(std::string(error.what()).starts_with("x.zip: "));
        return error.what();
    }
    return "";
}

std::string complaint(const RawEntry& entry) { return complaint(test::raw_zip({entry})); }

bool has(const std::string& text, const char* words) { return text.find(words) != std::string::npos; }

} // namespace

TEST_CASE("SHA-256 as FIPS 180-4 gives it (its examples, from memory)") {
    CHECK(record::sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(record::sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(record::sha256_hex(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("what is packed is unpacked, and the same files give the same bytes") {
    std::string noise(100'000, '\0');
    std::mt19937 random(3);
    for (char& c : noise)
        c = static_cast<char>(random());
    const std::vector<PackedFile> files{
        {"a.toml", "x = 1\n"}, {"deep/er/b.md", ""}, {"noise.bin", noise}, {"zeros", std::string(500'000, '\0')}};
    const std::string bytes = record::pack(files);
    CHECK(bytes == record::pack(files));
    CHECK(bytes.size() < 110'000);
    const auto again = record::unpack(bytes, "x.zip");
    REQUIRE(again.size() == files.size());
    for (std::size_t k = 0; k < files.size(); ++k) {
        CHECK(again[k].name == files[k].name);
        CHECK(again[k].content == files[k].content);
    }
    CHECK(record::unpack(record::pack({}), "x.zip").empty());
    CHECK(record::unpack(test::raw_zip({{"a", "1"}, {"b/c", "2"}}), "x.zip").size() == 2);
}

TEST_CASE("names that lead out of the folder or cannot be a file's everywhere are refused") {
    for (const char* name : {"/etc/passwd", "../x", "a/../../x", "a/..", "..", ".", "./x", "a//b", "a/", "", "C:x",
                             "a:b", "x.", "a./b", "a b", "\x1b[31m", "\xc3\xa4", "~/x?", "a\nb"}) {
        CAPTURE(name);
        CHECK(!record::trouble_with_name(name).empty());
        const std::string told = complaint(RawEntry{name, "x"});
        CHECK(has(told, "holds a file named"));
        CHECK(told.find('\x1b') == std::string::npos); // no terminal tricks in what is told
    }
    CHECK(has(complaint(RawEntry{"../x", "x"}), "leads out of its folder"));
    // libarchive reads '\\' as '/', and what comes of that is judged.
    CHECK(!record::trouble_with_name("a\\b").empty());
    CHECK(has(complaint(RawEntry{"..\\x", "x"}), "leads out of its folder"));
    CHECK(has(complaint(RawEntry{"/x", "x"}), "root of the disk"));
    CHECK(has(complaint(RawEntry{std::string(300, 'a'), "x"}), "too long"));
    for (const char* name : {"a", "a.b", ".hidden", "lessons/14_order/lesson.md", "x-1"})
        CHECK(record::trouble_with_name(name).empty());
}

TEST_CASE("links, folders and devices are refused") {
    for (const std::uint32_t mode : {0120777u, 0020666u, 0060666u, 0140666u})
        CHECK_MESSAGE(has(complaint(RawEntry{"a", "/etc/passwd", mode}), "no plain file"), mode);
    CHECK(has(complaint(RawEntry{"a", "", 0040755u}), "\"a/\""));
    // libarchive takes a pipe of a zip archive for a plain file, and so it comes out as one.
    const auto pipe = record::unpack(test::raw_zip({{"a", "x", 0010666u}}), "x.zip");
    CHECK(pipe[0].content == "x");
    CHECK(has(complaint(RawEntry{.name = "a", .content = "x", .encrypted = true}), "encrypted"));
}

TEST_CASE("a name twice, a file that is a folder too, and a wrong checksum are refused") {
    CHECK(has(complaint(test::raw_zip({{"a", "1"}, {"a", "2"}})), "\"a\" twice"));
    CHECK(has(complaint(test::raw_zip({{"a", "1"}, {"A", "2"}})), "twice"));
    CHECK(has(complaint(test::raw_zip({{"a/b", "1"}, {"a", "2"}})), "both as a file and as a folder"));
    CHECK(has(complaint(RawEntry{.name = "a", .content = "x", .wrong_crc = true}), "cannot be unpacked"));
}

TEST_CASE("no more comes out than the limits allow, whatever went in") {
    const record::ArchiveLimits limits{.archive_bytes = 100'000, .files = 3, .file_bytes = 50'000, .all_bytes = 80'000};
    CHECK(has(complaint(std::string(100'001, 'x'), limits), "is larger than"));
    // 50 001 zeros pack into some dozen bytes.
    const std::string bomb = record::pack({{"zeros", std::string(50'001, '\0')}});
    CHECK(bomb.size() < 1000);
    CHECK(has(complaint(bomb, limits), "in it is larger than"));
    CHECK(has(complaint(record::pack({{"a", std::string(45'000, '\0')}, {"b", std::string(45'000, '\0')}}), limits),
              "unpacks to more than"));
    CHECK(complaint(record::pack({{"a", ""}, {"b", ""}, {"c", ""}}), limits).empty());
    CHECK(has(complaint(record::pack({{"a", ""}, {"b", ""}, {"c", ""}, {"d", ""}}), limits), "more than 3 files"));
    CHECK(has(complaint(record::pack({{"zeros", std::string(3'000'000, '\0')}})), "larger than 2048 KiB"));
}

TEST_CASE("garbage, cut-off and damaged archives are refused or read as they were, and nothing else") {
    CHECK(!complaint("").empty());
    CHECK(!complaint("not a zip at all").empty());
    CHECK(!complaint(std::string("PK\x03\x04")).empty());
    const std::vector<PackedFile> files{{"a.toml", "x = 1\n"}, {"b.toml", std::string(3000, 'b')}};
    const std::string whole = record::pack(files);
    const auto same_or_refused = [&](const std::string& bytes) {
        try {
            for (const PackedFile& file : record::unpack(bytes, "x.zip")) {
                const bool known = file.content == files[0].content || file.content == files[1].content;
                if (!known)
                    return false;
            }
        } catch (const text::InputError&) {
        }
        return true;
    };
    for (std::size_t size = 0; size < whole.size(); ++size)
        CHECK(same_or_refused(whole.substr(0, size)));
    std::mt19937 random(11);
    for (int trial = 0; trial < 3000; ++trial) {
        std::string bytes = whole;
        for (int k = 0; k < 1 + trial % 3; ++k)
            bytes[random() % bytes.size()] = static_cast<char>(random());
        CHECK(same_or_refused(bytes));
    }
}

TEST_CASE("a pipe among what was handed in is refused at once, not waited for") {
    const auto pipe = std::filesystem::temp_directory_path() / ("holdtrue_handed_in." + std::to_string(::getpid()));
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK_THROWS_AS(record::read_bounded(pipe, 1000), text::InputError);
    std::filesystem::remove(pipe);
    CHECK_THROWS_AS(record::read_bounded("/dev/zero", 1000), text::InputError);
}
