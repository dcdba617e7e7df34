// Columns that line up on a terminal, whatever the alphabet (widths by lesson/terminal_text.h).
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::command_line {

// Shortened to `width` columns, the last an ellipsis, if it is longer.
std::string shortened(std::string_view text, int width);

// Rows of cells printed with every column as wide as its widest cell.
class TextTable {
public:
    // One letter per column: l left, r right.
    explicit TextTable(std::string alignment) : alignment_(std::move(alignment)) {}
    void add(std::vector<std::string> cells);
    std::string text() const;

private:
    std::string alignment_;
    std::vector<std::vector<std::string>> rows_;
};

} // namespace holdtrue::command_line
