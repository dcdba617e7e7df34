// Markdown (CommonMark with tables, parsed by md4c) to a flat list of blocks that a window or a terminal can draw.
// Raw HTML, images and links' addresses are left out: a lesson is text, tables and one live figure.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::lesson {

// A stretch of text in one style.
struct Run {
    std::string text; // UTF-8; "\n" is a hard line break
    bool strong = false, emphasis = false, code = false;
};
using Line = std::vector<Run>;

enum class BlockKind { heading, paragraph, item, code, table, rule };

struct Block {
    BlockKind kind = BlockKind::paragraph;
    int level = 0;        // heading: 1 to 6; item: nesting, from 1
    int number = 0;       // item of a numbered list: its number; 0: a bullet, or a further paragraph of the item above
    bool bullet = false;  // item: whether it shows its bullet or number
    bool caution = false; // inside a block quote, which lessons use for cautions
    Line text;            // all but tables
    std::vector<std::vector<Line>> rows; // table; the first row is its heading
};

// Never fails: whatever is not Markdown is text.
std::vector<Block> parse_markdown(std::string_view markdown);

std::string plain_text(const Line& line);

} // namespace holdtrue::lesson
