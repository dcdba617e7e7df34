// The window's fonts, found through fontconfig and drawn by FreeType.
#pragma once

struct ImFont;
struct ImFontAtlas;

namespace holdtrue::app {

struct Fonts {
    ImFont* text = nullptr;  // regular
    ImFont* bold = nullptr;  // names, numbers that matter
    ImFont* small = nullptr; // units, sources, legends
    ImFont* title = nullptr; // headings
};

// Loads all sizes for a scale of text and controls. DejaVu Sans or Noto Sans, else what fontconfig gives for
// sans-serif; without any font file the widget library's own is used.
Fonts load_fonts(ImFontAtlas& atlas, double scale);

} // namespace holdtrue::app
