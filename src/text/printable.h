// Names and texts that came from elsewhere must neither steer the terminal that shows them nor stop a page from being
// drawn.
#pragma once

#include <string>
#include <string_view>

namespace holdtrue::text {

// Control characters (ASCII, and U+0080 to U+009F) and bytes that are no UTF-8 become '?'.
std::string printable(std::string_view text);

} // namespace holdtrue::text
