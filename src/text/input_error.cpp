#include "text/input_error.h"

#include <utility>

namespace holdtrue::text {
namespace {

std::string all_lines(const std::vector<Problem>& problems) {
    std::string lines;
    for (const Problem& problem : problems) {
        if (!lines.empty())
            lines += '\n';
        lines += to_line(problem);
    }
    return lines;
}

// A file that came from elsewhere must not steer the terminal that shows what is wrong with it: control characters
// (ASCII, and U+0080 to U+009F as UTF-8 writes them) become '?'.
std::string without_control(std::string text) {
    for (std::size_t k = 0; k < text.size(); ++k) {
        const auto byte = static_cast<unsigned char>(text[k]);
        const auto next = static_cast<unsigned char>(k + 1 < text.size() ? text[k + 1] : 0);
        if (byte < 0x20 || byte == 0x7f)
            text[k] = '?';
        else if (byte == 0xc2 && next >= 0x80 && next <= 0x9f)
            text.replace(k, 2, "?");
    }
    return text;
}

} // namespace

std::string to_line(const Problem& problem) {
    std::string line = problem.file;
    if (problem.line > 0)
        line += ':' + std::to_string(problem.line);
    if (!line.empty())
        line += ": ";
    line += problem.what;
    if (!problem.fix.empty())
        line += "; " + problem.fix;
    return without_control(std::move(line));
}

InputError::InputError(std::vector<Problem> found)
    : std::runtime_error(all_lines(found)), problems_(std::move(found)) {}

} // namespace holdtrue::text
