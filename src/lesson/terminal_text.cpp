#include "lesson/terminal_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::lesson {
namespace {

// A word with its style; styles never change within a word's columns, so wrapping can ignore them.
struct Word {
    std::string text;    // as sent to the terminal
    int width = 0;       // columns
    bool space = false;  // preceded by a space
    bool breaks = false; // preceded by a line break
};

std::string styled_text(const std::string& text, const Run& run, bool styled) {
    if (!styled || text.empty() || (!run.strong && !run.emphasis))
        return text;
    return std::string(run.strong ? "\x1b[1m" : "") + (run.emphasis ? "\x1b[3m" : "") + text + "\x1b[0m";
}

std::vector<Word> words_of(const Line& line, bool styled) {
    std::vector<Word> words;
    bool space = true, breaks = false;
    for (const Run& run : line) {
        std::string piece;
        const auto take = [&] {
            if (piece.empty())
                return;
            if (space || breaks || words.empty())
                words.push_back({"", 0, space, breaks});
            words.back().text += styled_text(piece, run, styled);
            words.back().width += columns(piece);
            piece.clear();
            space = breaks = false;
        };
        for (const char c : run.text)
            if (c == ' ' || c == '\n') {
                take();
                (c == ' ' ? space : breaks) = true;
            } else
                piece += c;
        take();
    }
    return words;
}

// `first` stands before the first line, `later` before the others; both count columns as bytes.
std::string filled(const std::vector<Word>& words, int width, const std::string& first, const std::string& later) {
    std::string all = first;
    int used = columns(first);
    bool line_empty = true;
    for (const Word& word : words) {
        const bool fits = used + (line_empty ? 0 : 1) + word.width <= width;
        if ((word.breaks || !fits) && !line_empty) {
            all += '\n' + later;
            used = columns(later);
            line_empty = true;
        }
        if (!line_empty) {
            all += ' ';
            ++used;
        }
        all += word.text;
        used += word.width;
        line_empty = false;
    }
    return all + '\n';
}

std::string padded(std::string text, int width) {
    const int missing = width - columns(text);
    return missing > 0 ? text + std::string(missing, ' ') : text;
}

std::string table_text(const Block& block, const TerminalStyle& style) {
    std::vector<int> widths;
    for (const auto& row : block.rows)
        for (std::size_t k = 0; k < row.size(); ++k) {
            widths.resize(std::max(widths.size(), k + 1), 0);
            widths[k] = std::max(widths[k], columns(plain_text(row[k])));
        }
    std::string all;
    for (std::size_t r = 0; r < block.rows.size(); ++r) {
        std::string line;
        for (std::size_t k = 0; k < block.rows[r].size(); ++k)
            line += (k ? "  " : "") + padded(plain_text(block.rows[r][k]), widths[k]);
        line.erase(line.find_last_not_of(' ') + 1);
        all += (r == 0 ? styled_text(line, Run{"", true, false, false}, style.styled) : line) + '\n';
        if (r == 0) {
            int total = 2 * (static_cast<int>(widths.size()) - 1);
            for (const int width : widths)
                total += width;
            all += std::string(std::max(0, total), '-') + '\n';
        }
    }
    return all;
}

std::string block_text(const Block& block, const TerminalStyle& style) {
    if (block.kind == BlockKind::table)
        return table_text(block, style);
    if (block.kind == BlockKind::rule)
        return std::string(style.width, '-') + '\n';
    const std::string margin = block.caution ? "  ! " : "";
    Line line = block.text;
    if (block.kind == BlockKind::heading)
        for (Run& run : line)
            run.strong = true;
    if (block.kind == BlockKind::code)
        return margin + plain_text(line) + '\n';
    const std::vector<Word> words = words_of(line, style.styled);
    if (block.kind != BlockKind::item)
        return filled(words, style.width, margin, margin);
    const std::string indent = margin + std::string(2 * std::max(0, block.level - 1), ' ');
    const std::string mark = block.number > 0 ? std::to_string(block.number) + ". " : "- ";
    const std::string blank(mark.size(), ' ');
    return filled(words, style.width, indent + (block.bullet ? mark : blank), indent + blank);
}

struct Axis {
    double low, high;
};
Axis axis_of(const std::vector<double>& values) {
    Axis axis{std::ranges::min(values), std::ranges::max(values)};
    // A curve that stays well above nothing is drawn from nothing, so that its height can be compared.
    if (axis.low > 0 && axis.low < 0.7 * axis.high)
        axis.low = 0;
    if (axis.high <= axis.low)
        axis.high = axis.low + std::max(1e-12, std::abs(axis.low) * 0.1);
    return axis;
}

} // namespace

int columns(std::string_view utf8) {
    return static_cast<int>(std::ranges::count_if(utf8, [](char c) { return (c & 0xc0) != 0x80; }));
}

std::string wrapped(std::string_view text, int width, int hang) {
    return filled(words_of({Run{std::string(text), false, false, false}}, false), width, "", std::string(hang, ' '));
}

std::string in_terminal(const std::vector<Block>& blocks, const TerminalStyle& style) {
    std::string all;
    for (std::size_t k = 0; k < blocks.size(); ++k) {
        const bool tight = k > 0 && blocks[k].kind == BlockKind::item && blocks[k - 1].kind == BlockKind::item;
        if (k > 0 && !tight)
            all += '\n';
        all += block_text(blocks[k], style);
    }
    return all;
}

std::string in_terminal(const Figure& figure, const Curve& curve, const TerminalStyle& style) {
    const Model& model = *figure.model;
    const Input& across = model.inputs[figure.axis];
    const Output& up = model.outputs[figure.shown];
    constexpr int rows = 12, margin = 10;
    const int width = std::clamp(style.width - margin - 2, 20, 60);
    const units::Unit& y_unit = up.dimension->units[up.unit];
    const units::Unit& x_unit = across.dimension->units[across.unit];
    std::vector<double> heights; // as people read them
    for (const double si : curve.y)
        heights.push_back(y_unit.from_si(si));
    const Axis y = axis_of(heights);

    // One character per column: the curve, and where the reader stands on it.
    std::vector<std::string> picture(rows, std::string(width, ' '));
    const auto row_of = [&](double value) {
        const double share = (value - y.low) / (y.high - y.low);
        return std::clamp(static_cast<int>(std::lround((1 - share) * (rows - 1))), 0, rows - 1);
    };
    int before = -1; // row of the curve in the column before; steep stretches are drawn through
    for (int c = 0; c < width; ++c) {
        const double share = static_cast<double>(c) / (width - 1);
        const double place = share * static_cast<double>(heights.size() - 1);
        const auto k = std::min(static_cast<std::size_t>(place), heights.size() - 2);
        const int row = row_of(std::lerp(heights[k], heights[k + 1], place - static_cast<double>(k)));
        const int from = before < 0 ? row : before < row ? before + 1 : before > row ? before - 1 : row;
        for (int r = std::min(row, from); r <= std::max(row, from); ++r)
            picture[r][c] = '*';
        before = row;
    }
    const double along = (curve.x_now - curve.x.front()) / (curve.x.back() - curve.x.front());
    if (along >= 0 && along <= 1)
        picture[row_of(y_unit.from_si(curve.y_now))][std::lround(along * (width - 1))] = 'O';

    const auto labelled = [](std::string_view title, const units::Unit& unit) {
        return std::string(title) + (unit.label.empty() ? "" : " [" + std::string(unit.label) + "]");
    };
    std::string all = labelled(up.title, y_unit) + '\n';
    for (int r = 0; r < rows; ++r) {
        const bool told = r == 0 || r == rows - 1 || r == (rows - 1) / 2;
        const double at = y.high - (y.high - y.low) * r / (rows - 1);
        std::string label = told ? number_text(at) : "";
        label.insert(0, std::max(0, margin - 2 - columns(label)), ' ');
        std::string line = label + " |" + picture[r];
        line.erase(line.find_last_not_of(' ') + 1);
        all += line + '\n';
    }
    all += std::string(margin - 1, ' ') + '+' + std::string(width, '-') + '\n';
    const std::string left = number_text(x_unit.from_si(curve.x.front()));
    const std::string right = number_text(x_unit.from_si(curve.x.back()));
    const std::string title = labelled(across.title, x_unit);
    std::string foot = std::string(margin, ' ') + left;
    foot += std::string(std::max(1, margin + (width - columns(title)) / 2 - columns(foot)), ' ') + title;
    foot += std::string(std::max(1, margin + width - columns(foot) - columns(right)), ' ') + right;
    all += foot + "\n\n";

    for (std::size_t i = 0; i < model.inputs.size(); ++i)
        all += "  " + padded(std::string(model.inputs[i].title), 44) + ' ' +
               with_unit(curve.inputs_now[i], *model.inputs[i].dimension, model.inputs[i].unit) + '\n';
    for (std::size_t k = 0; k < model.outputs.size(); ++k)
        all += (static_cast<int>(k) == figure.shown ? "O " : "= ") + padded(std::string(model.outputs[k].title), 44) +
               ' ' + with_unit(curve.outputs_now[k], *model.outputs[k].dimension, model.outputs[k].unit) + '\n';
    all += wrapped("Source: " + std::string(model.source), style.width, 8);
    return all;
}

} // namespace holdtrue::lesson
