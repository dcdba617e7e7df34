#include "app/session/preferences.h"

#include "text/atomic_file.h"
#include "text/toml_reader.h"
#include "text/toml_text.h"

#include <algorithm>
#include <sstream>

namespace holdtrue::app {

Preferences read_preferences(const std::filesystem::path& file) {
    Preferences preferences;
    std::error_code ignored;
    if (!std::filesystem::exists(file, ignored))
        return preferences;
    text::Document document = text::Document::read(file);
    text::Table root = document.root();
    preferences.language = root.choice<Language>(
        "language", {{"english", Language::english}, {"spanish", Language::spanish}}, preferences.language);
    preferences.units = root.choice<units::System>(
        "units", {{"metric", units::System::metric}, {"imperial", units::System::imperial}}, preferences.units);
    preferences.shade =
        root.choice<Shade>("shade", {{"light", Shade::light}, {"dark", Shade::dark}}, preferences.shade);
    preferences.scale = root.number("scale", {0, 2.5}, preferences.scale);
    preferences.width_px = root.integer("width_px", least_width_px, most_width_px, preferences.width_px);
    preferences.height_px = root.integer("height_px", least_height_px, most_height_px, preferences.height_px);
    for (const std::string& name : root.texts("recent", false))
        preferences.recent.emplace_back(name);
    document.finish();
    return preferences;
}

void save_preferences(const Preferences& preferences, const std::filesystem::path& file) {
    std::ostringstream out;
    out << "language = " << (preferences.language == Language::spanish ? "\"spanish\"" : "\"english\"") << '\n'
        << "units = " << (preferences.units == units::System::imperial ? "\"imperial\"" : "\"metric\"") << '\n'
        << "shade = " << (preferences.shade == Shade::dark ? "\"dark\"" : "\"light\"") << '\n'
        << "scale = " << preferences.scale << "\nwidth_px = " << preferences.width_px
        << "\nheight_px = " << preferences.height_px << "\nrecent = [\n";
    for (const auto& recent : preferences.recent)
        out << "    " << text::in_quotes(recent.string()) << ",\n";
    out << "]\n";
    std::error_code told_below;
    std::filesystem::create_directories(file.parent_path(), told_below);
    text::write_atomically(file, out.str());
}

WindowSize window_size(WindowSize asked, const Preferences& preferences, WindowSize room) {
    const auto side = [](int asked_px, int left_px, int room_px, int least_px) {
        return asked_px > 0  ? asked_px
               : room_px > 0 ? std::clamp(left_px, least_px, std::max(room_px, least_px))
                             : left_px;
    };
    return {side(asked.width_px, preferences.width_px, room.width_px, least_width_px),
            side(asked.height_px, preferences.height_px, room.height_px, least_height_px)};
}

void remember(Preferences& preferences, const std::filesystem::path& file) {
    constexpr std::size_t kept = 10;
    const auto full = std::filesystem::absolute(file).lexically_normal();
    std::erase(preferences.recent, full);
    preferences.recent.insert(preferences.recent.begin(), full);
    if (preferences.recent.size() > kept)
        preferences.recent.resize(kept);
}

} // namespace holdtrue::app
