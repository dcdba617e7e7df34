#include "text/input_error.h"

#include "text/printable.h"

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

} // namespace

std::string to_line(const Problem& problem) {
    std::string line = problem.file;
    if (problem.line > 0)
        line += ':' + std::to_string(problem.line);
    if (!line.empty())
        line += ": ";
    line += problem.what.english();
    if (!problem.fix.empty())
        line += "; " + problem.fix.english();
    return printable(line);
}

InputError::InputError(std::vector<Problem> found)
    : std::runtime_error(all_lines(found)), problems_(std::move(found)) {}

} // namespace holdtrue::text
