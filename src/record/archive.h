// Files packed into one file and back, in memory: a zip archive (deflate), written and read by libarchive.
// Reading trusts nothing: it is refused as a whole, before anything could be written, when it holds anything but plain
// files under harmless names, a name twice (in upper or lower case), more or larger files than the limits allow, or
// content that does not fit its own checksum.
#pragma once

#include "text/sentence.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::record {

struct PackedFile {
    std::string name; // "lessons/14_order/lesson.md"
    std::string content;
};

struct ArchiveLimits {
    std::size_t archive_bytes = 8u << 20; // as packed
    std::size_t files = 200;
    std::size_t file_bytes = 2u << 20;
    std::size_t all_bytes = 16u << 20; // unpacked
};

// Why a file must not bear this name; empty: it is harmless. Harmless is: relative, parts divided by '/', each of
// letters, digits, '_', '-' and '.', none of them ".", ".." or ending in '.', 120 characters in all at most.
text::Sentence trouble_with_name(std::string_view name);

// The same files give the same bytes: no times, owners or rights are kept. Names must be harmless and different.
std::string pack(const std::vector<PackedFile>& files);

// `file` names the archive in what is told. Throws text::InputError.
std::vector<PackedFile> unpack(std::string_view archive, const std::string& file, const ArchiveLimits& limits = {});

// Reads a file that may be no larger than `most` bytes. Throws text::InputError.
std::string read_bounded(const std::filesystem::path& file, std::size_t most);

std::string sha256_hex(std::string_view bytes); // FIPS 180-4; 64 digits

} // namespace holdtrue::record
