// What a person got wrong in a file or on the command line: what, where, and what to do about it.
// Thrown by text/ and by the readers and validators of part/, arc/, weld/ and grading/; caught in two places only,
// command_line/main.cpp (prints the lines, exit code 2) and app/session (shows them, keeps all that was loaded).
#pragma once

#include "text/sentence.h"

#include <functional>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace holdtrue::text {

// What is told of a mistake. A bare string, which would stay as it is in every language, does not become one: words of
// the program are marked with worded(), or with in_english() where the command line alone can show them.
struct Told : Sentence {
    Told() = default;
    Told(Wording words, std::vector<Sentence> in_places = {}) : Sentence(words, std::move(in_places)) {}
    Told(Sentence sentence) : Sentence(std::move(sentence)) {}
};
Told in_english(std::string words);

struct Problem {
    std::string file; // empty: the command line
    int line = 0;     // from 1; 0: the file as a whole
    Told what;        // "thickness_mm is 0"
    Told fix;         // "give the sheet's thickness, 0.5 to 40 mm"
};

// "parts/arm.part.toml:12: thickness_mm is 0; give the sheet's thickness, 0.5 to 40 mm"
std::string to_line(const Problem& problem);
// The same in the language that `say` speaks.
std::string to_line(const Problem& problem, const std::function<std::string(const Sentence&)>& say);

// The lines of all problems.
Sentence all_told(const std::vector<Problem>& problems);

class InputError : public std::runtime_error {
public:
    explicit InputError(std::vector<Problem> found); // at least one
    InputError(std::string file, int line, Told what, Told fix)
        : InputError(std::vector<Problem>{{std::move(file), line, std::move(what), std::move(fix)}}) {}

    const std::vector<Problem>& problems() const { return problems_; }

private:
    std::vector<Problem> problems_;
};

} // namespace holdtrue::text
