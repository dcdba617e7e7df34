// A zip archive written byte by byte, so that it can lie: stored entries only (PKWARE APPNOTE 4.3, 4.4).
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace holdtrue::test {

struct RawEntry {
    std::string name, content;
    std::uint32_t mode = 0100644; // Unix: 0120777 a symbolic link, 0040755 a folder, 0020666 a character device
    bool wrong_crc = false;
    bool encrypted = false;
};

inline std::uint32_t crc32(const std::string& bytes) {
    std::uint32_t crc = 0xffffffff;
    for (const char c : bytes) {
        crc ^= static_cast<unsigned char>(c);
        for (int bit = 0; bit < 8; ++bit)
            crc = (crc >> 1) ^ (crc & 1 ? 0xedb88320u : 0u);
    }
    return ~crc;
}

inline std::string raw_zip(const std::vector<RawEntry>& entries) {
    std::string out, directory;
    const auto put = [](std::string& to, std::uint64_t value, int bytes) {
        for (int k = 0; k < bytes; ++k)
            to += static_cast<char>(value >> (8 * k));
    };
    for (const RawEntry& entry : entries) {
        const std::size_t at = out.size();
        std::string common;
        put(common, entry.encrypted ? 1 : 0, 2); // flags
        put(common, 0, 2);                       // stored
        put(common, 0x00210000, 4);              // 1980-01-01
        put(common, crc32(entry.content) ^ (entry.wrong_crc ? 1 : 0), 4);
        put(common, entry.content.size(), 4);
        put(common, entry.content.size(), 4);
        put(common, entry.name.size(), 2);
        put(common, 0, 2); // extra
        put(out, 0x04034b50, 4);
        put(out, 20, 2);
        out += common + entry.name + entry.content;
        put(directory, 0x02014b50, 4);
        put(directory, (3 << 8) | 20, 2); // made on Unix
        put(directory, 20, 2);
        directory += common;
        put(directory, 0, 2 + 2 + 2); // comment, disk, internal attributes
        put(directory, static_cast<std::uint64_t>(entry.mode) << 16, 4);
        put(directory, at, 4);
        directory += entry.name;
    }
    const std::size_t start = out.size();
    out += directory;
    put(out, 0x06054b50, 4);
    put(out, 0, 4);
    put(out, entries.size(), 2);
    put(out, entries.size(), 2);
    put(out, directory.size(), 4);
    put(out, start, 4);
    put(out, 0, 2);
    return out;
}

} // namespace holdtrue::test
