#include "app/ui/theme.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

constexpr Colour rgb(unsigned hex) { return 0xff000000u | (hex & 0xffu) << 16 | (hex & 0xff00u) | (hex >> 16 & 0xffu); }

// WCAG 2.1, definition of relative luminance.
double luminance(Colour colour) {
    const auto linear = [](unsigned byte) {
        const double c = byte / 255.0;
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(colour & 0xff) + 0.7152 * linear(colour >> 8 & 0xff) + 0.0722 * linear(colour >> 16 & 0xff);
}

ImVec4 vec(Colour colour) { return ImGui::ColorConvertU32ToFloat4(colour); }

} // namespace

Theme theme_of(Shade shade) {
    if (shade == Shade::dark)
        return {.ground = rgb(0x14191c),
                .sheet = rgb(0x1d2428),
                .raised = rgb(0x2a3439),
                .line = rgb(0x46545b),
                .ink = rgb(0xeef1ee),
                .quiet = rgb(0xb4c0c2),
                .accent = rgb(0x7fd1b9),
                .on_accent = rgb(0x0b2a22),
                .accent_wash = rgb(0x24413b),
                .good = rgb(0x8fd694),
                .caution = rgb(0xf0c05a),
                .bad = rgb(0xff9d8f),
                .metal = rgb(0xaab4b8),
                .outline = rgb(0x0d1113),
                .bead = rgb(0x7fd1b9),
                .chalk = rgb(0xffffff),
                .chalk_edge = rgb(0x30393d)};
    return {.ground = rgb(0xe9e7e1),
            .sheet = rgb(0xfbfaf7),
            .raised = rgb(0xf0eee8),
            .line = rgb(0xbdb9ae),
            .ink = rgb(0x1d2624),
            .quiet = rgb(0x505a57),
            .accent = rgb(0x0f5c4d),
            .on_accent = rgb(0xffffff),
            .accent_wash = rgb(0xd9e9e2),
            .good = rgb(0x1c6b35),
            .caution = rgb(0x7a5200),
            .bad = rgb(0xa3271a),
            .metal = rgb(0xc3c9ca),
            .outline = rgb(0x3a4446),
            .bead = rgb(0x0f5c4d),
            .chalk = rgb(0xffffff),
            .chalk_edge = rgb(0x4a5557)};
}

void apply(const Theme& theme, double scale, ImGuiStyle& style) {
    style = ImGuiStyle();
    style.WindowPadding = {14, 12};
    style.FramePadding = {10, 6};
    style.ItemSpacing = {8, 7};
    style.ItemInnerSpacing = {6, 4};
    style.CellPadding = {6, 4};
    style.ScrollbarSize = 12;
    style.GrabMinSize = 14;
    style.WindowRounding = 0;
    style.ChildRounding = 6;
    style.FrameRounding = 4;
    style.PopupRounding = 6;
    style.ScrollbarRounding = 6;
    style.GrabRounding = 4;
    style.WindowBorderSize = 0;
    style.ChildBorderSize = 0;
    style.PopupBorderSize = 1;
    style.FrameBorderSize = 1;
    style.SelectableTextAlign = {0, 0.5f};
    style.DisabledAlpha = 0.55f;
    style.ScaleAllSizes(static_cast<float>(scale));

    const auto set = [&](int which, Colour colour) { style.Colors[which] = vec(colour); };
    set(ImGuiCol_Text, theme.ink);
    set(ImGuiCol_TextDisabled, theme.quiet);
    set(ImGuiCol_WindowBg, theme.ground);
    set(ImGuiCol_ChildBg, theme.sheet);
    set(ImGuiCol_PopupBg, theme.sheet);
    set(ImGuiCol_Border, theme.line);
    set(ImGuiCol_BorderShadow, 0);
    set(ImGuiCol_FrameBg, theme.raised);
    set(ImGuiCol_FrameBgHovered, theme.accent_wash);
    set(ImGuiCol_FrameBgActive, theme.accent_wash);
    set(ImGuiCol_ScrollbarBg, 0);
    set(ImGuiCol_ScrollbarGrab, theme.line);
    set(ImGuiCol_ScrollbarGrabHovered, theme.quiet);
    set(ImGuiCol_ScrollbarGrabActive, theme.quiet);
    set(ImGuiCol_CheckMark, theme.accent);
    // The number is written over the grab, so it lets the ground through.
    set(ImGuiCol_SliderGrab, faded(theme.accent, 0.35));
    set(ImGuiCol_SliderGrabActive, faded(theme.accent, 0.5));
    set(ImGuiCol_Button, theme.raised);
    set(ImGuiCol_ButtonHovered, theme.accent_wash);
    set(ImGuiCol_ButtonActive, theme.accent_wash);
    set(ImGuiCol_Header, theme.accent_wash);
    set(ImGuiCol_HeaderHovered, theme.raised);
    set(ImGuiCol_HeaderActive, theme.accent_wash);
    set(ImGuiCol_Separator, theme.line);
    set(ImGuiCol_TableBorderLight, theme.line);
    set(ImGuiCol_TableBorderStrong, theme.line);
    set(ImGuiCol_TableHeaderBg, theme.sheet);
    set(ImGuiCol_TableRowBg, 0);
    set(ImGuiCol_TableRowBgAlt, 0);
    set(ImGuiCol_PlotHistogram, theme.accent);
    set(ImGuiCol_TextSelectedBg, theme.accent_wash);
    set(ImGuiCol_DragDropTarget, theme.accent);
    set(ImGuiCol_NavHighlight, theme.accent);
    set(ImGuiCol_ModalWindowDimBg, faded(rgb(0x000000), 0.45));
}

double contrast(Colour a, Colour b) {
    const double la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

Colour faded(Colour colour, double alpha) {
    return (colour & 0x00ffffffu) | static_cast<Colour>(std::lround(std::clamp(alpha, 0.0, 1.0) * 255)) << 24;
}

} // namespace holdtrue::app
