// Writes text as a TOML string.
#pragma once

#include <string>
#include <string_view>

namespace holdtrue::text {

std::string in_quotes(std::string_view words); // with its quotes; control characters escaped

// The text of a document with a key of its root set to `value` (as TOML writes it), all else as it was: the key's line
// is replaced, or a line is put on top. Throws InputError when the text is not TOML, or the key's value does not stand
// on one line.
std::string with_root_key(const std::string& toml, const std::string& key, const std::string& value,
                          const std::string& file_name);

} // namespace holdtrue::text
