#include "record/archive.h"

#include "text/input_error.h"
#include "text/regular_file.h"
#include "text/verify.h"

#include <archive.h>
#include <archive_entry.h>
#include <nettle/sha2.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <memory>
#include <set>

namespace holdtrue::record {
namespace {

using text::worded;

constexpr text::Wording ask_again = worded("ask for the file again; it is damaged, or was not made by Holdtrue");

[[noreturn]] void refuse(const std::string& file, const text::Told& what, const text::Told& fix = ask_again) {
    throw text::InputError(file, 0, what, fix);
}

using Reader = std::unique_ptr<archive, int (*)(archive*)>;
using Writer = std::unique_ptr<archive, int (*)(archive*)>;
using Entry = std::unique_ptr<archive_entry, void (*)(archive_entry*)>;

// A name as a message may show it: an archive can hold anything.
std::string shown(std::string_view name) {
    std::string text;
    for (const char c : name.substr(0, 60))
        text += c >= ' ' && c < 127 ? c : '?';
    return '"' + text + (name.size() > 60 ? "...\"" : "\"");
}

std::string lower(std::string name) {
    for (char& c : name)
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return name;
}

std::string size_words(std::size_t bytes) { return std::to_string(bytes >> 10) + " KiB"; }

// What an entry is, before its content is looked at; its name.
std::string checked_name(archive_entry* entry, const std::string& file) {
    const char* given = archive_entry_pathname(entry);
    const std::string name = given ? given : "";
    if (const text::Sentence trouble = trouble_with_name(name); !trouble.empty())
        refuse(file, {worded("holds a file named {0}, a name that {1}"), {shown(name), trouble}});
    if (archive_entry_filetype(entry) != AE_IFREG || archive_entry_hardlink(entry) || archive_entry_symlink(entry))
        refuse(file, {worded("holds {0}, which is no plain file"), {shown(name)}});
    if (archive_entry_is_encrypted(entry))
        refuse(file, {worded("holds {0}, which is encrypted"), {shown(name)}});
    return name;
}

// Never takes more than the limits into memory, whatever size the entry claims.
std::string content_of(archive* reader, const std::string& name, std::size_t room, const std::string& file,
                       const ArchiveLimits& limits) {
    std::string content;
    std::array<char, 16384> buffer;
    for (;;) {
        const la_ssize_t got = archive_read_data(reader, buffer.data(), buffer.size());
        if (got == 0)
            return content;
        if (got < 0)
            refuse(file, {worded("cannot be unpacked at {0}"), {shown(name)}});
        content.append(buffer.data(), static_cast<std::size_t>(got));
        if (content.size() > limits.file_bytes)
            refuse(file, {worded("{0} in it is larger than {1}"), {shown(name), size_words(limits.file_bytes)}});
        if (content.size() > room)
            refuse(file, {worded("unpacks to more than {0}"), {size_words(limits.all_bytes)}});
    }
}

} // namespace

text::Sentence trouble_with_name(std::string_view name) {
    if (name.empty())
        return worded("is empty");
    if (name.size() > 120)
        return worded("is too long");
    if (name.front() == '/')
        return worded("starts at the root of the disk");
    for (std::size_t from = 0; from <= name.size();) {
        const std::size_t to = std::min(name.find('/', from), name.size());
        const std::string_view part = name.substr(from, to - from);
        if (part == "..")
            return worded("leads out of its folder");
        if (part.empty() || part == "." || part.back() == '.')
            return worded("has a part that cannot be a file's name everywhere");
        for (const char c : part)
            if (!((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ||
                  c == '.'))
                return worded("has other characters than letters, digits, '_', '-' and '.'");
        from = to + 1;
    }
    return {};
}

std::string pack(const std::vector<PackedFile>& files) {
    std::size_t room = 4096; // headings, once in their place and once in the directory
    for (const PackedFile& file : files) {
        VERIFY(trouble_with_name(file.name).empty(), "a harmful name is packed");
        room += file.content.size() + file.content.size() / 1000 + 2 * file.name.size() + 512;
    }
    std::string bytes(room, '\0');
    std::size_t used = 0;
    const Writer writer(archive_write_new(), archive_write_free);
    // No time stamps and no padding: the archive hangs on the files alone.
    bool good = archive_write_set_format_zip(writer.get()) == ARCHIVE_OK &&
                archive_write_set_bytes_per_block(writer.get(), 0) == ARCHIVE_OK &&
                archive_write_open_memory(writer.get(), bytes.data(), bytes.size(), &used) == ARCHIVE_OK;
    for (const PackedFile& file : files) {
        const Entry entry(archive_entry_new(), archive_entry_free);
        archive_entry_set_pathname(entry.get(), file.name.c_str());
        archive_entry_set_filetype(entry.get(), AE_IFREG);
        archive_entry_set_perm(entry.get(), 0644);
        archive_entry_set_size(entry.get(), static_cast<la_int64_t>(file.content.size()));
        archive_entry_set_mtime(entry.get(), 315'576'000, 0); // 1 January 1980 noon UTC, the first year of zip
        good = good && archive_write_header(writer.get(), entry.get()) == ARCHIVE_OK &&
               archive_write_data(writer.get(), file.content.data(), file.content.size()) ==
                   static_cast<la_ssize_t>(file.content.size());
    }
    good = good && archive_write_close(writer.get()) == ARCHIVE_OK;
    VERIFY(good, "the archive did not fit its buffer");
    bytes.resize(used);
    return bytes;
}

std::vector<PackedFile> unpack(std::string_view bytes, const std::string& file, const ArchiveLimits& limits) {
    if (bytes.size() > limits.archive_bytes)
        refuse(file, {worded("is larger than {0}"), {size_words(limits.archive_bytes)}});
    const Reader reader(archive_read_new(), archive_read_free);
    if (archive_read_support_format_zip(reader.get()) != ARCHIVE_OK ||
        archive_read_open_memory(reader.get(), bytes.data(), bytes.size()) != ARCHIVE_OK)
        refuse(file, worded("is no zip archive"));

    std::vector<PackedFile> files;
    std::set<std::string> names;
    std::size_t all = 0;
    for (;;) {
        archive_entry* entry = nullptr;
        const int status = archive_read_next_header(reader.get(), &entry);
        if (status == ARCHIVE_EOF)
            break;
        if (status != ARCHIVE_OK)
            refuse(file, worded("cannot be unpacked"));
        if (files.size() == limits.files)
            refuse(file, {worded("holds more than {0} files"), {std::to_string(limits.files)}});
        const std::string name = checked_name(entry, file);
        if (!names.insert(lower(name)).second)
            refuse(file, {worded("holds {0} twice"), {shown(name)}});
        files.push_back({name, content_of(reader.get(), name, limits.all_bytes - all, file, limits)});
        all += files.back().content.size();
    }
    // A file cannot be the folder of another.
    for (const std::string& name : names)
        for (std::size_t at = name.find('/'); at != std::string::npos; at = name.find('/', at + 1))
            if (names.contains(name.substr(0, at)))
                refuse(file, {worded("holds {0} both as a file and as a folder"), {shown(name.substr(0, at))}});
    return files;
}

std::string read_bounded(const std::filesystem::path& file, std::size_t most) {
    text::require_regular_file(file);
    std::ifstream in(file, std::ios::binary);
    std::string content(most + 1, '\0');
    in.read(content.data(), static_cast<std::streamsize>(content.size()));
    if (!in.is_open() || in.bad())
        refuse(file.string(), worded("cannot be read"), worded("check the name and that you may read it"));
    content.resize(static_cast<std::size_t>(in.gcount()));
    if (content.size() > most)
        refuse(file.string(), {worded("is larger than {0}"), {size_words(most)}});
    return content;
}

std::string sha256_hex(std::string_view bytes) {
    sha256_ctx context;
    sha256_init(&context);
    sha256_update(&context, bytes.size(), reinterpret_cast<const std::uint8_t*>(bytes.data()));
    std::array<std::uint8_t, SHA256_DIGEST_SIZE> digest;
    sha256_digest(&context, digest.size(), digest.data());
    std::string text;
    for (const std::uint8_t byte : digest) {
        constexpr std::string_view hex = "0123456789abcdef";
        text += {hex[byte / 16], hex[byte % 16]};
    }
    return text;
}

} // namespace holdtrue::record
