// What a user sets once: language, units, colours, size, and the files used lately. Kept as TOML in the user's
// configuration folder.
#pragma once

#include "units/quantity_text.h"

#include <filesystem>
#include <string>
#include <vector>

namespace holdtrue::app {

enum class Language { english, spanish };
enum class Shade { light, dark };

struct Preferences {
    Language language = Language::english;
    units::System units = units::System::metric;
    Shade shade = Shade::light;
    double scale = 0;                          // of text and controls, 1 to 2.5; 0: as the screen says
    std::vector<std::filesystem::path> recent; // latest first

    bool operator==(const Preferences&) const = default;
};

// A file that is not there gives the defaults; one that is wrong throws InputError.
Preferences read_preferences(const std::filesystem::path& file);
void save_preferences(const Preferences& preferences, const std::filesystem::path& file);

// Puts a file first among the recent ones, of which it keeps ten.
void remember(Preferences& preferences, const std::filesystem::path& file);

} // namespace holdtrue::app
