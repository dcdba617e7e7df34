// Which file a name to be written to stands for.
#pragma once

#include <filesystem>

namespace holdtrue::text {

// The name itself or, through links, what they lead to. Throws InputError for what a file would take the place of, such
// as a folder or a device, and for a link that leads nowhere.
std::filesystem::path writable_target(const std::filesystem::path& path);

} // namespace holdtrue::text
