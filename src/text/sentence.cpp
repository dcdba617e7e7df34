#include "text/sentence.h"

namespace holdtrue::text {

Sentence Sentence::of_file(std::string english) {
    Sentence sentence(std::move(english));
    sentence.translates = true;
    return sentence;
}

std::string Sentence::english() const {
    std::vector<std::string> values;
    for (const Sentence& part : parts)
        values.push_back(part.english());
    return fill(pattern, values);
}

Sentence all_of(const std::vector<std::string>& names) {
    std::string list;
    for (const std::string& name : names)
        list += (list.empty() ? "" : ", ") + name;
    return list;
}

Sentence one_of(const std::vector<std::string>& names) {
    if (names.size() < 2)
        return all_of(names);
    return {worded("{0} or {1}"), {all_of({names.begin(), names.end() - 1}), names.back()}};
}

std::string fill(std::string_view pattern, const std::vector<std::string>& values) {
    std::string result;
    for (std::size_t k = 0; k < pattern.size(); ++k) {
        const bool place = pattern[k] == '{' && k + 2 < pattern.size() && pattern[k + 2] == '}' &&
                           pattern[k + 1] >= '0' && pattern[k + 1] <= '9';
        const auto index = place ? static_cast<std::size_t>(pattern[k + 1] - '0') : 0;
        if (place && index < values.size()) {
            result += values[index];
            k += 2;
        } else
            result += pattern[k];
    }
    return result;
}

} // namespace holdtrue::text
