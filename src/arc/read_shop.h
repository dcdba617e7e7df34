// Reads a .shop.toml (lessons/AUTHORING.md lists every key).
#pragma once

#include "arc/shop.h"

#include <memory>
#include <string_view>

namespace holdtrue::arc {

// Throws text::InputError with everything that is wrong with the file.
std::shared_ptr<const Shop> read_shop(const std::filesystem::path& path);
std::shared_ptr<const Shop> parse_shop(std::string_view toml, const std::string& file_name);

} // namespace holdtrue::arc
