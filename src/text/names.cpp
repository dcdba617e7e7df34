#include "text/names.h"

#include <algorithm>
#include <cctype>

namespace holdtrue::text {
bool is_name(std::string_view word) {
    const auto plain = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_' || c == '-'; };
    return !word.empty() && word.size() <= 40 && std::ranges::all_of(word, plain);
}

std::string read_name(Table& table, std::string_view what, const std::vector<std::string>& taken,
                      std::string_view key) {
    const std::string name = table.text(key);
    if (name.empty())
        return name; // told already
    if (!is_name(name))
        table.problem(key, "\"" + name + "\" cannot name a " + std::string(what), name_rule);
    else if (std::ranges::find(taken, name) != taken.end())
        table.problem(key, "there are two of the name \"" + name + "\"",
                      "give each " + std::string(what) + " a name of its own");
    return name;
}

int find_named(const Table& table, std::string_view key, const std::string& word, std::string_view what,
               const std::vector<std::string>& known) {
    const auto found = std::ranges::find(known, word);
    if (found != known.end())
        return static_cast<int>(found - known.begin());
    const std::string near = nearest(word, known);
    table.problem(key, "there is no " + std::string(what) + " \"" + word + "\"",
                  !near.empty()        ? "did you mean \"" + near + "\"?"
                  : known.empty()      ? "the file names none"
                  : known.size() <= 12 ? "there is " + listed(known)
                                       : "see the names in the file");
    return 0;
}

} // namespace holdtrue::text
