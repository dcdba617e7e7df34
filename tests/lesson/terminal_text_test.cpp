#include "lesson/terminal_text.h"

#include <doctest/doctest.h>

#include <sstream>

using namespace holdtrue::lesson;

namespace {

int widest(const std::string& text) {
    std::istringstream lines(text);
    std::string line;
    int most = 0;
    while (std::getline(lines, line))
        most = std::max(most, columns(line));
    return most;
}

} // namespace

TEST_CASE("text wraps to the width at any width, counting letters and not bytes") {
    const auto blocks =
        parse_markdown("# Heading\n\nSome **bold words** at 20 °C and more of them, so that it wraps.\n\n"
                       "- an item that is long enough to go on to a second line\n- short\n\n> caution text\n");
    for (int width = 20; width < 100; width += 7) {
        const std::string plain = in_terminal(blocks, {width, false});
        CHECK(widest(plain) <= width);
        CHECK(plain.find('\x1b') == std::string::npos);
    }
    CHECK(in_terminal(blocks, {60, true}).find("\x1b[1mbold\x1b[0m") != std::string::npos);
    CHECK(columns("20 °C") == 5);
    CHECK(wrapped("aa bb cc", 5, 2) == "aa bb\n  cc\n");
    CHECK(wrapped("a_word_longer_than_the_line x", 10) == "a_word_longer_than_the_line\nx\n");
}

TEST_CASE("an item's later lines hang under its text") {
    CHECK(in_terminal(parse_markdown("- aaa bbb ccc ddd eee fff\n- x\n"), {20, false}) ==
          "- aaa bbb ccc ddd\n  eee fff\n- x\n");
}

TEST_CASE("a table lines up") {
    CHECK(in_terminal(parse_markdown("| a | bb |\n|---|---|\n| ccc | d |\n"), {40, false}) ==
          "a    bb\n-------\nccc  d\n");
}

TEST_CASE("the figure shows the curve, the place on it, and all values") {
    Figure figure;
    figure.model = find_model("heat_input");
    figure.inputs = figure.model->usual();
    figure.axis = figure.model->input("travel");
    figure.axis_low = 0.002;
    figure.axis_high = 0.012;
    const std::string text = in_terminal(figure, evaluate(figure, figure.inputs), {78, false});
    CHECK(text.find('*') != std::string::npos);
    CHECK(text.find('O') != std::string::npos);
    CHECK(text.find("travel speed [mm/min]") != std::string::npos);
    CHECK(text.find("0.346 kJ/mm") != std::string::npos); // 0.8 * 18 V * 120 A / 5 mm/s
    CHECK(widest(text) <= 78);
}
