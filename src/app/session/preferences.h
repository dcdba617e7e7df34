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
    int width_px = 1280, height_px = 800;      // of the window when it was closed
    std::vector<std::filesystem::path> recent; // latest first

    bool operator==(const Preferences&) const = default;
};

// A file that is not there gives the defaults; one that is wrong throws InputError.
Preferences read_preferences(const std::filesystem::path& file);
void save_preferences(const Preferences& preferences, const std::filesystem::path& file);

inline constexpr int least_width_px = 640, least_height_px = 480, most_width_px = 7680, most_height_px = 4320;
struct WindowSize {
    int width_px = 0, height_px = 0;
    bool operator==(const WindowSize&) const = default;
};
// That the window opens with: as asked for; each side that is not (0) as it was left, but no larger than the screen has
// room for (0: nobody knows).
WindowSize window_size(WindowSize asked, const Preferences& preferences, WindowSize room);

// Puts a file first among the recent ones, of which it keeps ten.
void remember(Preferences& preferences, const std::filesystem::path& file);

} // namespace holdtrue::app
