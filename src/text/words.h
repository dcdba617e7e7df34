// Words in messages: the nearest known one, and lists of them.
#pragma once

#include "text/sentence.h"

#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::text {

// The nearest of `known` to a misspelt word, or "" if none is near.
std::string nearest(std::string_view word, const std::vector<std::string>& known);
// 'did you mean "..."?' where one of `known` is near the misspelt word, or else `otherwise`.
Sentence did_you_mean(std::string_view word, const std::vector<std::string>& known, Sentence otherwise);
// "a, b or c"
std::string listed(const std::vector<std::string>& words);

} // namespace holdtrue::text
