// The window's words in other languages. The English text is the key: code reads as the screen does, and a text that
// has no translation shows in English. The TOML files of one folder per language hold the table:
//     "Turn the part" = "Girar la pieza"
#pragma once

#include "text/sentence.h"

#include <filesystem>
#include <string>
#include <unordered_map>

namespace holdtrue::text {

class Translation {
public:
    Translation() = default; // English
    // Throws InputError.
    static Translation read(const std::filesystem::path& folder);

    // The returned text lives as long as the Translation (and as `english`, which a missing one returns).
    const char* operator()(const char* english) const;
    std::string say(const Sentence& sentence) const;
    const std::unordered_map<std::string, std::string>& table() const { return table_; }
    const std::string& language() const { return language_; } // the folder's name: "es"; English: empty

private:
    std::string language_;
    std::unordered_map<std::string, std::string> table_;
};

} // namespace holdtrue::text
