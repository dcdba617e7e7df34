#include "lesson/markdown.h"

#include "text/verify.h"

#include <md4c.h>

namespace holdtrue::lesson {
namespace {

// What md4c tells while it walks the text: enter and leave for blocks and spans, and text in between.
class Builder {
public:
    std::vector<Block> blocks;

    void enter(MD_BLOCKTYPE type, void* detail) {
        switch (type) {
        case MD_BLOCK_QUOTE:
            ++quotes_;
            break;
        case MD_BLOCK_UL:
            lists_.push_back({});
            break;
        case MD_BLOCK_OL:
            lists_.push_back({static_cast<int>(static_cast<MD_BLOCK_OL_DETAIL*>(detail)->start), true});
            break;
        case MD_BLOCK_LI: {
            List& list = lists_.back();
            Block& item = open(BlockKind::item);
            item.level = static_cast<int>(lists_.size());
            item.bullet = true;
            if (list.numbered)
                item.number = list.next++;
            break;
        }
        case MD_BLOCK_HR:
            open(BlockKind::rule);
            break;
        case MD_BLOCK_H:
            open(BlockKind::heading).level = static_cast<int>(static_cast<MD_BLOCK_H_DETAIL*>(detail)->level);
            break;
        case MD_BLOCK_CODE:
            open(BlockKind::code);
            break;
        case MD_BLOCK_P:
            // A list item is open and empty when its first paragraph comes; later ones follow without a bullet.
            if (lists_.empty())
                open(BlockKind::paragraph);
            else if (!blocks.back().text.empty())
                open(BlockKind::item).level = static_cast<int>(lists_.size());
            break;
        case MD_BLOCK_TABLE:
            open(BlockKind::table);
            break;
        case MD_BLOCK_TR:
            blocks.back().rows.emplace_back();
            break;
        case MD_BLOCK_TH:
        case MD_BLOCK_TD:
            blocks.back().rows.back().emplace_back();
            break;
        default:
            break;
        }
    }

    void leave(MD_BLOCKTYPE type) {
        if (type == MD_BLOCK_QUOTE)
            --quotes_;
        if (type == MD_BLOCK_UL || type == MD_BLOCK_OL)
            lists_.pop_back();
    }

    void span(MD_SPANTYPE type, bool enters) {
        const int change = enters ? 1 : -1;
        if (type == MD_SPAN_STRONG)
            strong_ += change;
        if (type == MD_SPAN_EM)
            emphasis_ += change;
        if (type == MD_SPAN_CODE)
            code_ += change;
    }

    void text(std::string_view piece) {
        VERIFY(!blocks.empty(), "md4c sends text inside blocks only");
        Block& block = blocks.back();
        Line& line = block.kind == BlockKind::table ? block.rows.back().back() : block.text;
        const Run style{"", strong_ > 0, emphasis_ > 0, code_ > 0};
        if (line.empty() || line.back().strong != style.strong || line.back().emphasis != style.emphasis ||
            line.back().code != style.code)
            line.push_back(style);
        line.back().text += piece;
    }

private:
    struct List {
        int next = 1;
        bool numbered = false;
    };
    std::vector<List> lists_;
    int quotes_ = 0, strong_ = 0, emphasis_ = 0, code_ = 0;

    Block& open(BlockKind kind) {
        Block& block = blocks.emplace_back();
        block.kind = kind;
        block.caution = quotes_ > 0;
        return block;
    }
};

// The named entities that a writer of lessons may use; any other stays as written.
std::string_view entity(std::string_view written) {
    if (written == "&amp;")
        return "&";
    if (written == "&lt;")
        return "<";
    if (written == "&gt;")
        return ">";
    if (written == "&nbsp;")
        return "\u00a0";
    return written;
}

Builder& builder(void* user) { return *static_cast<Builder*>(user); }

} // namespace

std::vector<Block> parse_markdown(std::string_view markdown) {
    MD_PARSER parser{};
    parser.flags = MD_FLAG_TABLES | MD_FLAG_NOHTML;
    parser.enter_block = [](MD_BLOCKTYPE type, void* detail, void* user) {
        builder(user).enter(type, detail);
        return 0;
    };
    parser.leave_block = [](MD_BLOCKTYPE type, void*, void* user) {
        builder(user).leave(type);
        return 0;
    };
    parser.enter_span = [](MD_SPANTYPE type, void*, void* user) {
        builder(user).span(type, true);
        return 0;
    };
    parser.leave_span = [](MD_SPANTYPE type, void*, void* user) {
        builder(user).span(type, false);
        return 0;
    };
    parser.text = [](MD_TEXTTYPE type, const MD_CHAR* characters, MD_SIZE size, void* user) {
        const std::string_view piece(characters, size);
        switch (type) {
        case MD_TEXT_NULLCHAR:
            builder(user).text("\ufffd");
            break;
        case MD_TEXT_BR:
            builder(user).text("\n");
            break;
        case MD_TEXT_SOFTBR:
            builder(user).text(" ");
            break;
        case MD_TEXT_ENTITY:
            builder(user).text(entity(piece));
            break;
        default:
            builder(user).text(piece);
            break;
        }
        return 0;
    };
    Builder result;
    md_parse(markdown.data(), static_cast<MD_SIZE>(markdown.size()), &parser, &result);
    return std::move(result.blocks);
}

std::string plain_text(const Line& line) {
    std::string all;
    for (const Run& run : line)
        all += run.text;
    return all;
}

} // namespace holdtrue::lesson
