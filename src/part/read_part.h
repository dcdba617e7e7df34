// Reads a .part.toml (lessons/AUTHORING.md lists every key) and checks that the geometry holds together: panels have
// area, joints lie on both of their panels, gauges and clamps on theirs.
#pragma once

#include "part/part.h"

#include <memory>

namespace holdtrue::part {

// Throws text::InputError with everything that is wrong with the file.
std::shared_ptr<const Part> read_part(const std::filesystem::path& path);
std::shared_ptr<const Part> parse_part(std::string_view toml, const std::string& file_name);

} // namespace holdtrue::part
