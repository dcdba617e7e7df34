#include "report/canvas.h"

#include <cairo.h>
#include <doctest/doctest.h>

using namespace holdtrue;

TEST_CASE("text wraps at spaces, then behind a joint within a name, then anywhere, and every line fits") {
    cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 10, 10);
    cairo_t* cairo = cairo_create(surface);
    report::Canvas canvas(cairo);
    const report::Font font{9};
    const auto lines = [&](const char* words, const char* as_wide_as) {
        const double width = canvas.text_width(as_wide_as, font);
        std::vector<std::string> wrapped = canvas.wrapped(words, width, font);
        for (const std::string& line : wrapped)
            CHECK(canvas.text_width(line, font) <= width + 1e-9);
        return wrapped;
    };
    using Lines = std::vector<std::string>;
    CHECK(lines("weld it here", "weld it") == Lines{"weld it", "here"});
    CHECK(lines("rib_left_front/layer1", "rib_left_front/la") == Lines{"rib_left_front/", "layer1"});
    CHECK(lines("upright_welds", "upright_weld") == Lines{"upright_", "welds"});
    CHECK(lines("flatness", "flatn") == Lines{"flatn", "ess"});
    CHECK(canvas.longest_word("done at, by", font) == canvas.text_width("done", font));
    CHECK(canvas.longest_word("", font) == 0);
    cairo_destroy(cairo);
    cairo_surface_destroy(surface);
}
