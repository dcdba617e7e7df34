// Lessons, figures and questions for a terminal: wrapped to a width, bold only where the terminal can show it.
#pragma once

#include "lesson/figure.h"

#include <string>
#include <string_view>

namespace holdtrue::lesson {

struct TerminalStyle {
    int width = 78;      // columns, >= 20
    bool styled = false; // ANSI escapes for bold and italic
};

// Columns that UTF-8 text takes: one for each code point (lessons hold no wide or combining characters).
int columns(std::string_view utf8);

// Breaks text at spaces; later lines begin with `hang` spaces. "\n" in the text breaks too.
std::string wrapped(std::string_view text, int width, int hang = 0);

std::string in_terminal(const std::vector<Block>& blocks, const TerminalStyle& style);
// The curve as a picture of characters, with both axes, and under it all inputs and outputs as they stand.
std::string in_terminal(const Figure& figure, const Curve& curve, const TerminalStyle& style);

} // namespace holdtrue::lesson
