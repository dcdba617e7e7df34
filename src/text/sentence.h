// Words for a person, kept as a pattern and what goes into its places {0}, {1}, ..., so that each language can put them
// in its own order. Whoever has something to say makes one; whoever shows it says it in English (`english()`) or in
// another language (Translation::say).
//     Sentence(worded("no tack on '{0}'"), {joint.name})
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace holdtrue::text {

// A literal that is translated where it is shown. Only worded() makes one, by which the test of the translation table
// finds them all.
class Wording {
public:
    constexpr operator const char*() const { return english_; }

private:
    explicit constexpr Wording(const char* english) : english_(english) {}
    friend consteval Wording worded(const char* english);
    const char* english_;
};
consteval Wording worded(const char* english) { return Wording(english); }

struct Sentence {
    Sentence() = default; // says nothing
    Sentence(Wording words, std::vector<Sentence> in_places = {})
        : pattern(words), parts(std::move(in_places)), translates(true) {}
    Sentence(std::string name_or_figure) : pattern(std::move(name_or_figure)) {} // the same in every language
    Sentence(const char*) = delete;                                              // mark it with worded()
    // A text of a file, which the table knows if the file ships with the program.
    static Sentence of_file(std::string english);

    bool empty() const { return pattern.empty(); }
    std::string english() const;
    bool operator==(const Sentence&) const = default;

    std::string pattern;
    std::vector<Sentence> parts;
    bool translates = false; // whether the pattern is looked up in the table
};

Sentence all_of(const std::vector<std::string>& names); // "a, b, c"
Sentence one_of(const std::vector<std::string>& names); // "a, b or c"

// Puts values in the places of a pattern, wherever a language wants them.
std::string fill(std::string_view pattern, const std::vector<std::string>& values);

} // namespace holdtrue::text
