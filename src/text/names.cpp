#include "text/names.h"

#include <algorithm>
#include <cctype>

namespace holdtrue::text {
bool is_name(std::string_view word) {
    const auto plain = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_' || c == '-'; };
    return !word.empty() && word.size() <= 40 && std::ranges::all_of(word, plain);
}

std::string read_name(Table& table, Wording what, const std::vector<std::string>& taken, std::string_view key) {
    const std::string name = table.text(key);
    if (name.empty())
        return name; // told already
    if (!is_name(name))
        table.problem(key, {worded("\"{0}\" cannot be a name"), {name}}, name_rule);
    else if (std::ranges::find(taken, name) != taken.end())
        table.problem(key, {worded("there are two of the name \"{0}\""), {name}},
                      {worded("give each {0} a name of its own"), {what}});
    return name;
}

int find_named(const Table& table, std::string_view key, const std::string& word, Wording what,
               const std::vector<std::string>& known) {
    const auto found = std::ranges::find(known, word);
    if (found != known.end())
        return static_cast<int>(found - known.begin());
    const Sentence which = known.empty()        ? Sentence(worded("the file names none"))
                           : known.size() <= 12 ? Sentence(worded("there is {0}"), {one_of(known)})
                                                : Sentence(worded("see the names in the file"));
    table.problem(key, {worded("there is no {0} \"{1}\""), {what, word}}, did_you_mean(word, known, which));
    return 0;
}

} // namespace holdtrue::text
