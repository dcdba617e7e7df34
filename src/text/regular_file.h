// A file that is read is a file: opening a pipe would wait for whoever writes into it, a device may never end.
#pragma once

#include <filesystem>

namespace holdtrue::text {

// Follows links. Throws InputError for a folder, pipe, device, dangling link or nothing at all.
void require_regular_file(const std::filesystem::path& path);

} // namespace holdtrue::text
