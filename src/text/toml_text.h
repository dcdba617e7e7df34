// Writes text as a TOML string.
#pragma once

#include <string>
#include <string_view>

namespace holdtrue::text {

std::string in_quotes(std::string_view words); // with its quotes; control characters escaped

} // namespace holdtrue::text
