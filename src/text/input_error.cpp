#include "text/input_error.h"

#include "text/printable.h"

#include <utility>

namespace holdtrue::text {
namespace {

std::string place_of(const Problem& problem) {
    std::string place = problem.file;
    if (problem.line > 0)
        place += ':' + std::to_string(problem.line);
    return place.empty() ? place : place + ": ";
}

// With its parts, but not the words of the program, made harmless.
Sentence printable_parts(Sentence sentence) {
    if (!sentence.translates)
        sentence.pattern = printable(sentence.pattern);
    for (Sentence& part : sentence.parts)
        part = printable_parts(std::move(part));
    return sentence;
}

Sentence joined(std::string pattern, std::vector<Sentence> parts) {
    Sentence sentence(std::move(pattern));
    sentence.parts = std::move(parts);
    return sentence;
}

Sentence told_in_one(const Problem& problem) {
    return joined(problem.fix.empty() ? "{0}{1}" : "{0}{1}; {2}", {place_of(problem), problem.what, problem.fix});
}

} // namespace

Told in_english(std::string words) { return Sentence(std::move(words)); }

std::string to_line(const Problem& problem) { return to_line(problem, &Sentence::english); }

std::string to_line(const Problem& problem, const std::function<std::string(const Sentence&)>& say) {
    return printable(say(told_in_one(problem)));
}

Sentence all_told(const std::vector<Problem>& problems) {
    Sentence all;
    for (const Problem& problem : problems) {
        Sentence line = printable_parts(told_in_one(problem));
        all = all.empty() ? std::move(line) : joined("{0}\n{1}", {std::move(all), std::move(line)});
    }
    return all;
}

InputError::InputError(std::vector<Problem> found)
    : std::runtime_error(all_told(found).english()), problems_(std::move(found)) {}

} // namespace holdtrue::text
