// A page or picture to draw on: cairo behind a few words, so that the drawings speak of text, lines and colours.
// Lengths are the picture's own units (pixels of a PNG or SVG, points of 1/72 inch on a sheet); y runs down.
#pragma once

#include "report/colour_scale.h"

#include <Eigen/Core>

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

using cairo_t = struct _cairo;
using cairo_surface_t = struct _cairo_surface;

namespace holdtrue::report {

using Place = Eigen::Vector2d;

struct Box {
    double x = 0, y = 0, width = 0, height = 0;
    double right() const { return x + width; }
    double bottom() const { return y + height; }
    Place middle() const { return {x + 0.5 * width, y + 0.5 * height}; }
    Box shrunk(double by) const { return {x + by, y + by, width - 2 * by, height - 2 * by}; }
};

struct Ink {
    Colour colour;
    double alpha = 1;
};
namespace ink { // of print: dark slate on white
inline constexpr Ink text{{0.13, 0.15, 0.19}};
inline constexpr Ink faint{{0.42, 0.45, 0.50}};
inline constexpr Ink rule{{0.80, 0.82, 0.85}};
inline constexpr Ink tint{{0.955, 0.96, 0.97}};
inline constexpr Ink paper{{1, 1, 1}};
inline constexpr Ink good{{0.05, 0.42, 0.46}};    // teal
inline constexpr Ink caution{{0.66, 0.42, 0.02}}; // ochre
inline constexpr Ink bad{{0.70, 0.16, 0.12}};     // brick
} // namespace ink

enum class Align { left, centre, right };
struct Font {
    double size = 12;
    bool bold = false;
};

class Canvas {
public:
    explicit Canvas(cairo_t* cairo) : cairo_(cairo) {}
    cairo_t* cairo() const { return cairo_; }

    void text(const Place& baseline, std::string_view words, const Font& font, const Ink& ink = ink::text,
              Align align = Align::left);
    double text_width(std::string_view words, const Font& font);
    // Breaks at spaces (and within a word that alone is too wide) so that every line fits.
    std::vector<std::string> wrapped(std::string_view words, double width, const Font& font);
    // Wrapped text from `top_left` down; returns its height.
    double paragraph(const Place& top_left, double width, std::string_view words, const Font& font,
                     const Ink& ink = ink::text, Align align = Align::left);
    double paragraph_height(double width, std::string_view words, const Font& font);
    double longest_word(std::string_view words, const Font& font); // width of the widest [pt]

    void line(const Place& from, const Place& to, double width, const Ink& ink);
    void polyline(const std::vector<Place>& places, double width, const Ink& ink);
    void polygon(const std::vector<Place>& places, const Ink& ink);
    void fill(const Box& box, const Ink& ink, double corner = 0);
    void outline(const Box& box, double width, const Ink& ink, double corner = 0);
    void disc(const Place& centre, double radius, const Ink& fill, const Ink& edge, double edge_width);
    // Pixels, row by row from the top, 0xAARRGGBB with colours premultiplied.
    void image(const Box& box, const std::vector<std::uint32_t>& pixels, int width, int height);

private:
    void use(const Font& font);
    void use(const Ink& ink);
    cairo_t* cairo_;
};

// Throw text::InputError unless a picture ends in .png or .svg, a sheet in .pdf.
void check_picture_name(const std::filesystem::path& path);
void check_sheet_name(const std::filesystem::path& path);

// Draws a PNG or an SVG, by the file's suffix, and saves it atomically. Throws text::InputError for another suffix
// or a place that cannot be written.
void save_picture(const std::filesystem::path& path, double width, double height,
                  const std::function<void(Canvas&)>& draw);

enum class Paper { a4, letter };
Place paper_size_pt(Paper paper);
// Draws a PDF. `draw` gets the first page and a function that ends a page and begins the next.
void save_sheets(const std::filesystem::path& path, Paper paper, const std::string& title,
                 const std::function<void(Canvas&, const std::function<void()>& next_page)>& draw);

} // namespace holdtrue::report
