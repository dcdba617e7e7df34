#include "text/translate.h"

#include "text/toml_reader.h"

#include <set>

namespace holdtrue::text {

Translation Translation::read(const std::filesystem::path& folder) {
    std::set<std::filesystem::path> files;
    try {
        for (const auto& entry : std::filesystem::directory_iterator(folder))
            if (entry.path().extension() == ".toml")
                files.insert(entry.path());
    } catch (const std::filesystem::filesystem_error&) {
        throw InputError(folder.string(), 0, worded("cannot be read"), worded("restore the folder of translations"));
    }
    Translation translation;
    translation.language_ = folder.filename().string();
    for (const auto& file : files) {
        Document document = Document::read(file);
        Table root = document.root();
        for (const std::string& english : root.keys())
            if (!translation.table_.emplace(english, root.text(english)).second)
                root.problem(english, worded("another file of the folder translates this text"),
                             worded("keep one of the two"));
        document.finish();
    }
    return translation;
}

const char* Translation::operator()(const char* english) const {
    if (table_.empty())
        return english;
    const auto found = table_.find(english);
    return found == table_.end() ? english : found->second.c_str();
}

std::string Translation::say(const Sentence& sentence) const {
    std::vector<std::string> values;
    for (const Sentence& part : sentence.parts)
        values.push_back(say(part));
    return fill(sentence.translates ? (*this)(sentence.pattern.c_str()) : sentence.pattern.c_str(), values);
}

} // namespace holdtrue::text
