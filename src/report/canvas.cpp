#include "report/canvas.h"

#include "text/atomic_file.h"
#include "text/input_error.h"
#include "text/printable.h"
#include "text/true_minus.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

namespace holdtrue::report {
namespace {

constexpr double line_spacing = 1.32; // of the font size
constexpr double first_line = 1.0;

struct SurfaceCloser {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
};
struct CairoCloser {
    void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
using SurfaceHolder = std::unique_ptr<cairo_surface_t, SurfaceCloser>;
using CairoHolder = std::unique_ptr<cairo_t, CairoCloser>;

void check(cairo_status_t status, const std::filesystem::path& path) {
    if (status != CAIRO_STATUS_SUCCESS)
        throw text::InputError(path.string(), 0, text::worded("cannot be drawn"),
                               text::worded("name a folder that you may write to, on a disk with room"));
}

// Bytes of the UTF-8 character that starts at `at`.
std::size_t character_length(std::string_view words, std::size_t at) {
    std::size_t length = 1;
    while (at + length < words.size() && (static_cast<unsigned char>(words[at + length]) & 0xC0) == 0x80)
        ++length;
    return length;
}

std::string shown(std::string_view words) { return text::true_minus(text::printable(words)); }

} // namespace

void Canvas::use(const Font& font) {
    cairo_select_font_face(cairo_, "sans-serif", CAIRO_FONT_SLANT_NORMAL,
                           font.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cairo_, font.size);
}

void Canvas::use(const Ink& ink) {
    cairo_set_source_rgba(cairo_, ink.colour.red, ink.colour.green, ink.colour.blue, ink.alpha);
}

double Canvas::text_width(std::string_view words, const Font& font) {
    use(font);
    cairo_text_extents_t extents;
    cairo_text_extents(cairo_, shown(words).c_str(), &extents);
    return extents.x_advance;
}

void Canvas::text(const Place& baseline, std::string_view words, const Font& font, const Ink& ink, Align align) {
    const double width = align == Align::left ? 0 : text_width(words, font);
    use(font);
    use(ink);
    cairo_move_to(cairo_, baseline.x() - (align == Align::centre ? 0.5 * width : width), baseline.y());
    cairo_show_text(cairo_, shown(words).c_str());
    cairo_new_path(cairo_);
}

std::vector<std::string> Canvas::wrapped(std::string_view words, double width, const Font& font) {
    std::vector<std::string> lines;
    std::string line;
    const auto push_long_word = [&](std::string_view word) {
        for (std::size_t at = 0; at < word.size();) {
            const std::size_t length = character_length(word, at);
            const std::string longer = line + std::string(word.substr(at, length));
            if (!line.empty() && text_width(longer, font) > width) {
                const std::size_t joint =
                    line.find_last_of("/_-."); // "seam_top/" and "tack4" before "seam_top/tac" and "k4"
                const std::size_t cut = joint == std::string::npos ? line.size() : joint + 1;
                lines.push_back(line.substr(0, cut));
                line.erase(0, cut);
            }
            line += word.substr(at, length);
            at += length;
        }
    };
    for (std::size_t at = 0; at < words.size();) {
        std::size_t end = words.find(' ', at);
        if (end == std::string_view::npos)
            end = words.size();
        const std::string_view word = words.substr(at, end - at);
        at = end + 1;
        if (word.empty())
            continue;
        const std::string longer = line.empty() ? std::string(word) : line + " " + std::string(word);
        if (text_width(longer, font) <= width) {
            line = longer;
            continue;
        }
        if (!line.empty())
            lines.push_back(line);
        line.clear();
        if (text_width(word, font) <= width)
            line = word;
        else
            push_long_word(word);
    }
    if (!line.empty())
        lines.push_back(line);
    return lines;
}

double Canvas::paragraph(const Place& top_left, double width, std::string_view words, const Font& font, const Ink& ink,
                         Align align) {
    const std::vector<std::string> lines = wrapped(words, width, font);
    const double x = top_left.x() + (align == Align::left ? 0 : align == Align::right ? width : 0.5 * width);
    double y = top_left.y() + first_line * font.size;
    for (const std::string& line : lines) {
        text({x, y}, line, font, ink, align);
        y += line_spacing * font.size;
    }
    return line_spacing * font.size * static_cast<double>(lines.size());
}

double Canvas::paragraph_height(double width, std::string_view words, const Font& font) {
    return line_spacing * font.size * static_cast<double>(wrapped(words, width, font).size());
}

double Canvas::longest_word(std::string_view words, const Font& font) {
    double longest = 0;
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        longest = std::max(longest, text_width(words.substr(at, end - at), font));
        at = end + 1;
    }
    return longest;
}

void Canvas::line(const Place& from, const Place& to, double width, const Ink& ink) {
    polyline({from, to}, width, ink);
}

void Canvas::polyline(const std::vector<Place>& places, double width, const Ink& ink) {
    if (places.size() < 2)
        return;
    use(ink);
    cairo_set_line_width(cairo_, width);
    cairo_set_line_cap(cairo_, CAIRO_LINE_CAP_ROUND);
    cairo_set_line_join(cairo_, CAIRO_LINE_JOIN_ROUND);
    for (const Place& place : places)
        cairo_line_to(cairo_, place.x(), place.y());
    cairo_stroke(cairo_);
}

void Canvas::polygon(const std::vector<Place>& places, const Ink& ink) {
    use(ink);
    for (const Place& place : places)
        cairo_line_to(cairo_, place.x(), place.y());
    cairo_close_path(cairo_);
    cairo_fill(cairo_);
}

namespace {

void trace(cairo_t* cairo, const Box& box, double corner) {
    if (corner <= 0) {
        cairo_rectangle(cairo, box.x, box.y, box.width, box.height);
        return;
    }
    constexpr double quarter = 0.5 * std::numbers::pi;
    cairo_new_sub_path(cairo);
    cairo_arc(cairo, box.right() - corner, box.y + corner, corner, -quarter, 0);
    cairo_arc(cairo, box.right() - corner, box.bottom() - corner, corner, 0, quarter);
    cairo_arc(cairo, box.x + corner, box.bottom() - corner, corner, quarter, 2 * quarter);
    cairo_arc(cairo, box.x + corner, box.y + corner, corner, 2 * quarter, 3 * quarter);
    cairo_close_path(cairo);
}

} // namespace

void Canvas::fill(const Box& box, const Ink& ink, double corner) {
    use(ink);
    trace(cairo_, box, corner);
    cairo_fill(cairo_);
}

void Canvas::outline(const Box& box, double width, const Ink& ink, double corner) {
    use(ink);
    cairo_set_line_width(cairo_, width);
    trace(cairo_, box, corner);
    cairo_stroke(cairo_);
}

void Canvas::disc(const Place& centre, double radius, const Ink& fill_ink, const Ink& edge, double edge_width) {
    cairo_new_sub_path(cairo_);
    cairo_arc(cairo_, centre.x(), centre.y(), radius, 0, 2 * std::numbers::pi);
    use(fill_ink);
    cairo_fill_preserve(cairo_);
    use(edge);
    cairo_set_line_width(cairo_, edge_width);
    cairo_stroke(cairo_);
}

void Canvas::image(const Box& box, const std::vector<std::uint32_t>& pixels, int width, int height) {
    const SurfaceHolder surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, height));
    if (cairo_surface_status(surface.get()) != CAIRO_STATUS_SUCCESS)
        return;
    cairo_surface_flush(surface.get());
    unsigned char* data = cairo_image_surface_get_data(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    for (int y = 0; y < height; ++y)
        std::copy_n(reinterpret_cast<const unsigned char*>(pixels.data() + static_cast<std::ptrdiff_t>(y) * width),
                    4 * static_cast<std::ptrdiff_t>(width), data + static_cast<std::ptrdiff_t>(y) * stride);
    cairo_surface_mark_dirty(surface.get());
    cairo_save(cairo_);
    cairo_translate(cairo_, box.x, box.y);
    cairo_scale(cairo_, box.width / width, box.height / height);
    cairo_set_source_surface(cairo_, surface.get(), 0, 0);
    cairo_pattern_set_filter(cairo_get_source(cairo_), CAIRO_FILTER_BEST);
    cairo_paint(cairo_);
    cairo_restore(cairo_);
}

void check_picture_name(const std::filesystem::path& path) {
    if (path.extension() != ".png" && path.extension() != ".svg")
        throw text::InputError(path.string(), 0, text::worded("pictures are saved as .png or .svg"),
                               text::worded("end the name in one of these"));
}

void check_sheet_name(const std::filesystem::path& path) {
    if (path.extension() != ".pdf")
        throw text::InputError(path.string(), 0, text::worded("sheets are saved as .pdf"),
                               text::worded("end the name in .pdf"));
}

void save_picture(const std::filesystem::path& path, double width, double height,
                  const std::function<void(Canvas&)>& draw) {
    check_picture_name(path);
    const std::string suffix = path.extension().string();
    text::write_atomically(path, [&](const std::filesystem::path& temporary) {
        const SurfaceHolder surface(suffix == ".svg" ? cairo_svg_surface_create(temporary.c_str(), width, height)
                                                     : cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                                                                  static_cast<int>(std::ceil(width)),
                                                                                  static_cast<int>(std::ceil(height))));
        check(cairo_surface_status(surface.get()), path);
        {
            const CairoHolder cairo(cairo_create(surface.get()));
            Canvas canvas(cairo.get());
            canvas.fill({0, 0, width, height}, ink::paper);
            draw(canvas);
            check(cairo_status(cairo.get()), path);
        }
        if (suffix == ".png")
            check(cairo_surface_write_to_png(surface.get(), temporary.c_str()), path);
        cairo_surface_finish(surface.get());
        check(cairo_surface_status(surface.get()), path);
    });
}

Place paper_size_pt(Paper paper) {
    constexpr double pt_per_mm = 72 / 25.4;
    return paper == Paper::a4 ? Place{210 * pt_per_mm, 297 * pt_per_mm} : Place{8.5 * 72, 11.0 * 72};
}

void save_sheets(const std::filesystem::path& path, Paper paper, const std::string& title,
                 const std::function<void(Canvas&, const std::function<void()>&)>& draw) {
    check_sheet_name(path);
    text::write_atomically(path, [&](const std::filesystem::path& temporary) {
        const Place size = paper_size_pt(paper);
        const SurfaceHolder surface(cairo_pdf_surface_create(temporary.c_str(), size.x(), size.y()));
        check(cairo_surface_status(surface.get()), path);
        cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
        {
            const CairoHolder cairo(cairo_create(surface.get()));
            Canvas canvas(cairo.get());
            draw(canvas, [&] { cairo_show_page(cairo.get()); });
            check(cairo_status(cairo.get()), path);
        }
        cairo_surface_finish(surface.get());
        check(cairo_surface_status(surface.get()), path);
    });
}

} // namespace holdtrue::report
