#include "command_line/text_table.h"

#include "lesson/terminal_text.h"
#include "text/printable.h"

#include <algorithm>

namespace holdtrue::command_line {

std::string shortened(std::string_view text, int width) {
    if (lesson::columns(text) <= width)
        return std::string(text);
    std::size_t end = text.size();
    while (end > 0 && (lesson::columns(text.substr(0, end)) >= width || (text[end] & 0xC0) == 0x80))
        --end;
    return std::string(text.substr(0, end)) + "…";
}

void TextTable::add(std::vector<std::string> cells) {
    cells.resize(alignment_.size());
    for (std::string& cell : cells)
        cell = text::printable(cell);
    rows_.push_back(std::move(cells));
}

std::string TextTable::text() const {
    std::vector<int> width(alignment_.size(), 0);
    for (const auto& row : rows_)
        for (std::size_t k = 0; k < row.size(); ++k)
            width[k] = std::max(width[k], lesson::columns(row[k]));
    std::string all;
    for (const auto& row : rows_) {
        std::string line;
        for (std::size_t k = 0; k < row.size(); ++k) {
            const std::string room(static_cast<std::size_t>(width[k] - lesson::columns(row[k])), ' ');
            line += (k ? "  " : "") + (alignment_[k] == 'r' ? room + row[k] : row[k] + room);
        }
        line.erase(line.find_last_not_of(' ') + 1);
        all += line + "\n";
    }
    return all;
}

} // namespace holdtrue::command_line
