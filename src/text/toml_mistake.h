// Why a text is not TOML, for whoever wrote it: the parser's own words are for whoever writes a parser.
#pragma once

#include "text/input_error.h"

#include <string_view>

namespace holdtrue::text {

struct TomlMistake {
    Sentence what; // "a number is written with a comma"
    Sentence fix;
};

// `line`, from 1, is where the parser stopped, and `parser_words` what it said.
TomlMistake toml_mistake(std::string_view toml, int line, std::string_view parser_words);

// The first line, from 1, with a key a.b.c of more parts than any file has; 0: none. The parser goes down such a key by
// calling itself, and the stack has an end.
int line_of_deep_key(std::string_view toml);

} // namespace holdtrue::text
