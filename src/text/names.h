// Names that files give to things and refer to them by.
#pragma once

#include "text/toml_reader.h"

namespace holdtrue::text {

// Letters, digits, '_' and '-', at most 40 of them.
bool is_name(std::string_view word);
inline constexpr Wording name_rule = worded("use letters, digits, _ and -, at most 40 of them");

// The value of `key`: a name, and none of `taken`. `what` is what it names: worded("panel").
std::string read_name(Table& table, Wording what, const std::vector<std::string>& taken, std::string_view key = "name");

// Index in `known` of the thing that `word` names. If there is none, a problem at `key` and 0; `what` as above.
int find_named(const Table& table, std::string_view key, const std::string& word, Wording what,
               const std::vector<std::string>& known);

} // namespace holdtrue::text
