// Reads a .part.toml (lessons/AUTHORING.md lists every key) and checks that the geometry holds together: panels have
// area, joints lie on both of their panels, gauges and clamps on theirs.
#pragma once

#include "part/part.h"

#include <memory>
#include <span>

namespace holdtrue::part {

// A sheet that is thicker or thinner than the file says. What follows from the thickness follows: folded profiles,
// lengths of tacks, the checks of the geometry.
struct SheetChange {
    std::string panel;
    double thickness_m = 0;
};

// Throws text::InputError with everything that is wrong with the file. A change of a panel that the part does not have
// changes nothing.
std::shared_ptr<const Part> read_part(const std::filesystem::path& path, std::span<const SheetChange> changes = {});
std::shared_ptr<const Part> parse_part(std::string_view toml, const std::string& file_name);

} // namespace holdtrue::part
