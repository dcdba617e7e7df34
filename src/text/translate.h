// The window's words in other languages. The English text is the key: code reads as the screen does, and a text that
// has no translation shows in English. One TOML file per language holds the table:
//     "Turn the part" = "Girar la pieza"
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace holdtrue::text {

class Translation {
public:
    Translation() = default; // English
    // Throws InputError.
    static Translation read(const std::filesystem::path& file);

    // The returned text lives as long as the Translation (and as `english`, which a missing one returns).
    const char* operator()(const char* english) const;
    const std::unordered_map<std::string, std::string>& table() const { return table_; }

private:
    std::unordered_map<std::string, std::string> table_;
};

// Puts values in the places {0}, {1}, ... of a text, wherever a language wants them.
std::string fill(std::string_view pattern, const std::vector<std::string>& values);

} // namespace holdtrue::text
