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

} // namespace holdtrue::text
