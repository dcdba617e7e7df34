// Fills pages from top to bottom: heading and footer on every page, a new page when what comes next does not fit.
#pragma once

#include "report/canvas.h"

#include <functional>
#include <string>
#include <vector>

namespace holdtrue::report {

// One column of a table: its heading, its share of the width, its alignment.
struct Column {
    std::string heading;
    double share = 1;
    Align align = Align::left;
};
struct Cell {
    std::string text;
    Ink ink = ink::text;
    bool bold = false;
};

class PageFlow {
public:
    // `title` stands small on top of every page after the first; `note` at the foot of all.
    PageFlow(Canvas& canvas, const std::function<void()>& next_page, Paper paper, std::string title, std::string note);
    ~PageFlow();
    PageFlow(const PageFlow&) = delete;
    PageFlow& operator=(const PageFlow&) = delete;

    Canvas& canvas() { return canvas_; }
    double left() const { return margin; }
    double width() const { return size_.x() - 2 * margin; }
    double y() const { return y_; }
    double room() const { return size_.y() - margin - foot - y_; }

    // Begins a new page unless that much height is left.
    void need(double height);
    void gap(double height) { y_ += height; }
    // A box of the full width (or the share given) at the present height; moves on below it.
    Box take(double height);

    void title(const std::string& words, const std::string& below);
    // `follows`: height that must fit below the heading on the same page.
    void heading(const std::string& words, double follows = 40);
    void paragraph(const std::string& words, const Font& font = {9.5}, const Ink& ink = ink::text);
    void bullet(const std::string& words, const Ink& ink = ink::text);
    // Cells wrap; a row never splits over pages; the headings come again on a new page.
    void table(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows, double font_size = 8.5);

    static constexpr double margin = 42, foot = 22;

private:
    void start_page();
    void finish_page();
    std::vector<double> column_widths(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows,
                                      double font_size, double pad); // [pt]

    Canvas& canvas_;
    std::function<void()> next_page_;
    Place size_;
    std::string title_, note_;
    int page_ = 0;
    double y_ = 0;
};

} // namespace holdtrue::report
