// Figures as they are set for a reader. Files, tables for other programs and the terminal keep the hyphen, which
// programs read as a minus; pages and the window show the sign itself.
#pragma once

#include <string>
#include <string_view>

namespace holdtrue::text {

// A hyphen at the front of a figure becomes a minus (U+2212): "bow -0.51 mm (-2 %)". Those within names, ranges, dates
// and numbers of standards stay: "seam-2", "5-30", "EN 1011-2".
std::string true_minus(std::string_view words);

} // namespace holdtrue::text
