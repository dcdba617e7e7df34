// Writes a file so that a reader finds either the old content or the new, never half of it.
#pragma once

#include <filesystem>
#include <functional>
#include <string_view>

namespace holdtrue::text {

// Throws InputError (cannot create, disk full, ...) and leaves what was there before.
void write_atomically(const std::filesystem::path& path, std::string_view content);
// For libraries that write by file name: `write` gets the name of a new file beside `path`, which replaces `path`
// once it returned and is removed if it throws.
void write_atomically(const std::filesystem::path& path,
                      const std::function<void(const std::filesystem::path&)>& write);

} // namespace holdtrue::text
