#include "app/ui/fonts.h"

#include <fontconfig/fontconfig.h>
#include <imgui.h>
#include <imgui_freetype.h>

#include <cmath>
#include <filesystem>
#include <string>

namespace holdtrue::app {

namespace {

std::string find_font_file(bool bold) {
    std::string result;
    FcConfig* config = FcInitLoadConfigAndFonts();
    FcPattern* wanted = FcPatternCreate();
    for (const char* family : {"Noto Sans", "DejaVu Sans", "sans-serif"})
        FcPatternAddString(wanted, FC_FAMILY, reinterpret_cast<const FcChar8*>(family));
    FcPatternAddInteger(wanted, FC_WEIGHT, bold ? FC_WEIGHT_BOLD : FC_WEIGHT_REGULAR);
    FcPatternAddInteger(wanted, FC_SLANT, FC_SLANT_ROMAN);
    FcPatternAddBool(wanted, FC_OUTLINE, FcTrue);
    FcConfigSubstitute(config, wanted, FcMatchPattern);
    FcDefaultSubstitute(wanted);
    FcResult found{};
    if (FcPattern* match = FcFontMatch(config, wanted, &found)) {
        FcChar8* file = nullptr;
        if (FcPatternGetString(match, FC_FILE, 0, &file) == FcResultMatch)
            result = reinterpret_cast<const char*>(file);
        FcPatternDestroy(match);
    }
    FcPatternDestroy(wanted);
    FcConfigDestroy(config);
    return result;
}

// Latin with Spanish, arrows, Greek letters of formulas, and the few signs the window uses.
constexpr ImWchar glyphs[]{0x0020, 0x017f, 0x0391, 0x03c9, 0x2010, 0x2027, 0x2030, 0x2030, 0x2032,
                           0x2033, 0x2080, 0x2089, 0x2190, 0x21bb, 0x2212, 0x2212, 0x221a, 0x221e,
                           0x2248, 0x2265, 0x25a0, 0x25cf, 0x2713, 0x2717, 0};

} // namespace

Fonts load_fonts(ImFontAtlas& atlas, double scale) {
    atlas.Clear();
    atlas.FontBuilderIO = ImGuiFreeType::GetBuilderForFreeType();
    const std::string regular = find_font_file(false), bold = find_font_file(true);
    const auto load = [&](const std::string& file, double size_px) -> ImFont* {
        std::error_code ignored;
        ImFontConfig config;
        config.SizePixels = static_cast<float>(std::round(size_px * scale));
        if (!std::filesystem::exists(file, ignored))
            return atlas.AddFontDefault(&config);
        return atlas.AddFontFromFileTTF(file.c_str(), config.SizePixels, &config, glyphs);
    };
    Fonts fonts;
    fonts.text = load(regular, 15);
    fonts.bold = load(bold, 15);
    fonts.small = load(regular, 13);
    fonts.title = load(bold, 21);
    atlas.Build();
    return fonts;
}

} // namespace holdtrue::app
