#include "report/page_flow.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace holdtrue::report {

PageFlow::PageFlow(Canvas& canvas, const std::function<void()>& next_page, Paper paper, std::string title,
                   std::string note)
    : canvas_(canvas), next_page_(next_page), size_(paper_size_pt(paper)), title_(std::move(title)),
      note_(std::move(note)) {
    start_page();
}

PageFlow::~PageFlow() { finish_page(); }

void PageFlow::start_page() {
    ++page_;
    y_ = margin;
    if (page_ > 1) {
        canvas_.text({margin, margin - 10}, title_, {8}, ink::faint);
        canvas_.line({margin, margin - 4}, {size_.x() - margin, margin - 4}, 0.5, ink::rule);
        y_ += 6;
    }
}

void PageFlow::finish_page() {
    const double y = size_.y() - margin + 2;
    const std::string number = "page " + std::to_string(page_);
    canvas_.line({margin, y - 14}, {size_.x() - margin, y - 14}, 0.5, ink::rule);
    const double room = width() - canvas_.text_width(number, {7.5}) - 12;
    canvas_.paragraph({margin, y - 11}, room, note_, {7.5}, ink::faint);
    canvas_.text({size_.x() - margin, y - 3.5}, number, {7.5}, ink::faint, Align::right);
}

void PageFlow::need(double height) {
    const bool at_top = y_ < margin + 20;
    if (height <= room() || at_top)
        return;
    finish_page();
    next_page_();
    start_page();
}

Box PageFlow::take(double height) {
    need(height);
    const Box box{margin, y_, width(), height};
    y_ += height;
    return box;
}

void PageFlow::title(const std::string& words, const std::string& below) {
    y_ += canvas_.paragraph({margin, y_}, width(), words, {18, true});
    y_ += canvas_.paragraph({margin, y_}, width(), below, {9.5}, ink::faint) + 6;
}

void PageFlow::heading(const std::string& words, double follows) {
    need(24 + follows);
    y_ += 8;
    y_ += canvas_.paragraph({margin, y_}, width(), words, {12, true}) + 3;
}

void PageFlow::paragraph(const std::string& words, const Font& font, const Ink& ink) {
    const double height = canvas_.paragraph_height(width(), words, font);
    need(height);
    canvas_.paragraph({margin, y_}, width(), words, font, ink);
    y_ += height + 3;
}

void PageFlow::bullet(const std::string& words, const Ink& ink) {
    constexpr double indent = 11;
    const Font font{9.5};
    const double height = canvas_.paragraph_height(width() - indent, words, font);
    need(height);
    canvas_.disc({margin + 3.5, y_ + 6.6}, 1.5, ink, ink, 0.1);
    canvas_.paragraph({margin + indent, y_}, width() - indent, words, font, ink);
    y_ += height + 2;
}

// Widths by the columns' shares, except that a column is as wide as its longest word, if that is not beyond a quarter
// of the page; the others give way in the measure of what they can spare. Where all longest words together are too
// wide, the widest of them are broken.
std::vector<double> PageFlow::column_widths(const std::vector<Column>& columns,
                                            const std::vector<std::vector<Cell>>& rows, double font_size, double pad) {
    constexpr double rounding = 0.1; // or the word that a column is made for might break
    std::vector<double> least;
    for (std::size_t k = 0; k < columns.size(); ++k) {
        double longest = canvas_.longest_word(columns[k].heading, {font_size, true});
        for (const auto& row : rows)
            if (k < row.size())
                longest = std::max(longest, canvas_.longest_word(row[k].text, {font_size, row[k].bold}));
        least.push_back(std::min(longest + pad + rounding, 0.25 * width()));
    }
    while (std::accumulate(least.begin(), least.end(), 0.0) > width()) {
        const double shorter = 0.98 * std::ranges::max(least);
        for (double& one : least)
            one = std::min(one, shorter);
    }

    const double shares =
        std::accumulate(columns.begin(), columns.end(), 0.0, [](double sum, const Column& c) { return sum + c.share; });
    std::vector<double> widths;
    double lacking = 0, to_spare = 0;
    for (std::size_t k = 0; k < columns.size(); ++k) {
        widths.push_back(width() * columns[k].share / shares);
        (widths[k] < least[k] ? lacking : to_spare) += std::abs(widths[k] - least[k]);
    }
    const double part = to_spare > 0 ? std::min(1.0, lacking / to_spare) : 0;
    for (std::size_t k = 0; k < columns.size(); ++k)
        widths[k] += (widths[k] < least[k] ? 1 : part) * (least[k] - widths[k]);
    return widths;
}

void PageFlow::table(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows, double font_size) {
    constexpr double pad = 4;
    const std::vector<double> widths = column_widths(columns, rows, font_size, 2 * pad);
    const auto width_of = [&](std::size_t k) { return widths[k]; };
    const auto row_height = [&](const std::vector<Cell>& row) {
        double height = font_size;
        for (std::size_t k = 0; k < columns.size() && k < row.size(); ++k)
            height = std::max(height,
                              canvas_.paragraph_height(width_of(k) - 2 * pad, row[k].text, {font_size, row[k].bold}));
        return height + pad;
    };
    const auto draw_row = [&](const std::vector<Cell>& row, double height) {
        double x = margin;
        for (std::size_t k = 0; k < columns.size() && k < row.size(); ++k) {
            canvas_.paragraph({x + pad, y_ + 0.4 * pad}, width_of(k) - 2 * pad, row[k].text, {font_size, row[k].bold},
                              row[k].ink, columns[k].align);
            x += width_of(k);
        }
        y_ += height;
        canvas_.line({margin, y_}, {margin + width(), y_}, 0.4, ink::rule);
    };
    std::vector<Cell> headings;
    for (const Column& column : columns)
        headings.push_back({column.heading, ink::faint, true});
    const bool named = std::ranges::any_of(columns, [](const Column& column) { return !column.heading.empty(); });
    const auto draw_headings = [&] {
        if (named)
            draw_row(headings, row_height(headings));
    };

    bool begun = false;
    for (const auto& row : rows) {
        const double height = row_height(row);
        const int before = page_;
        need(height + (begun || !named ? 0 : row_height(headings)));
        if (!begun || page_ != before)
            draw_headings();
        begun = true;
        draw_row(row, height);
    }
    y_ += 6;
}

} // namespace holdtrue::report
