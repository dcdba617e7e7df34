// Puts a question to a trainee and judges the answer. The right answer of a computed question comes from its model
// each time it is posed; the seed chooses among the values its author allows, and shuffles the choices, so that
// neighbours get different sheets and the same seed the same one.
#pragma once

#include "lesson/lesson.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::lesson {

struct Posed {
    const Question* question = nullptr;
    std::string text, why;            // with given values filled in
    std::vector<std::string> choices; // choice and word; empty for a number
    int right_choice = -1;
    double right_value = 0;  // number: in the unit asked for
    std::string unit;        // number: its label
    std::string right_words; // as a person reads the right answer
};

Posed pose(const Question& question, std::uint64_t seed);
// With the first of the values given for every input, choices in the order written.
Posed pose_first(const Question& question);

enum class Judgement { right, wrong, not_understood };
// The index of the choice that an answer names, or -1.
int chosen(const Posed& posed, std::string_view answer);
// A choice is answered by its letter (a, b, ...), a number by its value ("6.4", "6,4", "6.4 m/min").
Judgement judge(const Posed& posed, std::string_view answer);

} // namespace holdtrue::lesson
