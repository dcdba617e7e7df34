// What a person got wrong in a file or on the command line: what, where, and what to do about it.
// Thrown by text/ and by the readers and validators of part/, arc/, weld/ and grading/; caught in two places only,
// command_line/main.cpp (prints the lines, exit code 2) and app/session (shows them, keeps all that was loaded).
#pragma once

#include "text/sentence.h"

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace holdtrue::text {

struct Problem {
    std::string file; // empty: the command line
    int line = 0;     // from 1; 0: the file as a whole
    Sentence what;    // "thickness_mm is 0"
    Sentence fix;     // "give the sheet's thickness, 0.5 to 40 mm"
};

// "parts/arm.part.toml:12: thickness_mm is 0; give the sheet's thickness, 0.5 to 40 mm"
std::string to_line(const Problem& problem);

class InputError : public std::runtime_error {
public:
    explicit InputError(std::vector<Problem> found); // at least one
    InputError(std::string file, int line, std::string what, std::string fix)
        : InputError(std::vector<Problem>{{std::move(file), line, std::move(what), std::move(fix)}}) {}

    const std::vector<Problem>& problems() const { return problems_; }

private:
    std::vector<Problem> problems_;
};

} // namespace holdtrue::text
