#include "text/toml_mistake.h"

#include <algorithm>
#include <cctype>
#include <string>

namespace holdtrue::text {
namespace {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blank = " \t\r\n";
    const std::size_t from = text.find_first_not_of(blank);
    return from == std::string_view::npos ? std::string_view()
                                          : text.substr(from, text.find_last_not_of(blank) - from + 1);
}

std::string_view line_of(std::string_view toml, int line) {
    std::size_t from = 0;
    for (int k = 1; k < line && from < toml.size(); ++k)
        from = std::min(toml.find('\n', from), toml.size() - 1) + 1;
    return trimmed(toml.substr(from, toml.find('\n', from) - from));
}

// Calls `outside(letter)` for each letter of a line that is in no quotes and no remark. Returns whether a quote is left
// open; one behind a backslash, or in a remark, is none.
template <class Outside>
bool look_outside_quotes(std::string_view line, const Outside& outside) {
    char open = 0;
    for (std::size_t k = 0; k < line.size(); ++k) {
        if (!open && line[k] == '#')
            return false;
        if (open == '"' && line[k] == '\\')
            ++k;
        else if (!open && (line[k] == '"' || line[k] == '\''))
            open = line[k];
        else if (line[k] == open)
            open = 0;
        else if (!open)
            outside(line[k]);
    }
    return open != 0;
}

bool leaves_quote_open(std::string_view line) {
    return look_outside_quotes(line, [](char) {});
}

bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

// "3,5" where a single value stands
bool has_comma_for_point(std::string_view value) {
    const std::size_t comma = value.find(',');
    return comma != std::string_view::npos && comma > 0 && comma + 1 < value.size() &&
           std::all_of(value.begin() + (value.front() == '-'), value.begin() + static_cast<std::ptrdiff_t>(comma),
                       is_digit) &&
           is_digit(value[comma + 1]);
}

// As much of a line as a message has room for.
std::string shown(std::string_view line) {
    constexpr std::size_t most = 60;
    std::size_t length = std::min(line.size(), most);
    while (length > 0 && length < line.size() && (static_cast<unsigned char>(line[length]) & 0xc0) == 0x80)
        --length; // not within a letter of several bytes
    return std::string(line.substr(0, length)) + (length < line.size() ? "…" : "");
}

} // namespace

int line_of_deep_key(std::string_view toml) {
    constexpr int most_points = 64;
    int number = 0;
    for (std::size_t from = 0; from < toml.size(); ++number) {
        const std::size_t end = std::min(toml.find('\n', from), toml.size());
        int points = 0, most = 0;
        look_outside_quotes(toml.substr(from, end - from), [&](char letter) {
            if (letter == '.')
                most = std::max(most, ++points);
            else if (std::string_view("=,[]{}").find(letter) != std::string_view::npos)
                points = 0;
        });
        if (most > most_points)
            return number + 1;
        from = end + 1;
    }
    return 0;
}

TomlMistake toml_mistake(std::string_view toml, int line, std::string_view parser_words) {
    const std::string_view text = line_of(toml, line);
    const auto said = [&](std::string_view word) { return parser_words.find(word) != std::string_view::npos; };
    if (said("redefine") || said("duplicate"))
        return {worded("a name that is given above is given again"), worded("take one of the two out, or rename it")};
    if (said("utf-8") || said("UTF-8"))
        return {worded("a letter is not written in UTF-8"), worded("save the file as UTF-8")};
    if (leaves_quote_open(text))
        return {worded("a quote is opened and not closed"), worded("close it on the same line")};
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos && !text.starts_with('[') && !text.empty())
        return {{worded("\"{0}\" is neither name = value nor [name]"), {shown(text)}},
                worded("write it in one of these forms, or put # before a remark")};
    const std::string_view value = equals == std::string_view::npos ? "" : trimmed(text.substr(equals + 1));
    if (equals != std::string_view::npos && value.empty())
        return {worded("there is no value after ="), worded("write the value on the same line")};
    if (has_comma_for_point(value))
        return {worded("a number is written with a comma"), worded("write a point: 3.5")};
    if (!value.empty() && std::isalpha(static_cast<unsigned char>(value.front())) && !value.starts_with("true") &&
        !value.starts_with("false"))
        return {worded("a text stands without quotes"), worded("put it in quotes")};
    if (text.empty())
        return {worded("the file ends too early"), worded("close what is open: a bracket or a text in three quotes")};
    return {{worded("\"{0}\" cannot be read"), {shown(text)}},
            worded("look for a sign too many, and for a bracket that is not closed")};
}

} // namespace holdtrue::text
