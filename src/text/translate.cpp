#include "text/translate.h"

#include "text/toml_reader.h"

namespace holdtrue::text {

Translation Translation::read(const std::filesystem::path& file) {
    Document document = Document::read(file);
    Table root = document.root();
    Translation translation;
    for (const std::string& english : root.keys())
        translation.table_.emplace(english, root.text(english));
    document.finish();
    return translation;
}

const char* Translation::operator()(const char* english) const {
    if (table_.empty())
        return english;
    const auto found = table_.find(english);
    return found == table_.end() ? english : found->second.c_str();
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
