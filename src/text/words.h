// Words in messages: the nearest known one, and lists of them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::text {

// The nearest of `known` to a misspelt word, or "" if none is near.
std::string nearest(std::string_view word, const std::vector<std::string>& known);
// "a, b or c"
std::string listed(const std::vector<std::string>& words);

} // namespace holdtrue::text
