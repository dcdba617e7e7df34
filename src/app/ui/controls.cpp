#include "app/ui/ui.h"

#include <imgui_internal.h>

#include <algorithm>

namespace holdtrue::app {

namespace {

ImVec4 vec(Colour colour) { return ImGui::ColorConvertU32ToFloat4(colour); }

} // namespace

void tip(Ui& ui, const std::string& text, float width_px) {
    if (text.empty() || !ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled))
        return;
    const ImGuiContext& g = *ImGui::GetCurrentContext();
    const FrameTip told{text, ui.px(width_px), ImGui::GetItemRectMin(), ImGui::GetItemRectMax()};
    if (g.NavDisableMouseHover && !g.NavDisableHighlight)
        ui.frame_tip = told;
    else
        draw_tip(ui, told);
}

void draw_tip(const Ui& ui, const FrameTip& tip) {
    ImGui::PushFont(ui.fonts.text);
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(tip.width);
    ImGui::TextUnformatted(tip.text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
    ImGui::PopFont();
}

std::string key_words(const Ui& ui, std::string_view keys) {
    constexpr text::Wording labels[]{worded("Shift"),  worded("Home"),     worded("End"),  worded("Delete"),
                                     worded("PageUp"), worded("PageDown"), worded("Enter")};
    std::string words;
    for (bool more = true; more;) {
        const auto plus = keys.find('+', 1); // "+" itself may be a key
        const std::string_view key = keys.substr(0, plus);
        const auto label = std::ranges::find_if(labels, [&](const char* one) { return key == one; });
        words += key == "Up"                 ? "↑"
                 : key == "Down"             ? "↓"
                 : key == "Left"             ? "←"
                 : key == "Right"            ? "→"
                 : label == std::end(labels) ? std::string(key)
                                             : std::string(ui.tr(*label));
        more = plus != std::string_view::npos;
        if (more) {
            words += '+';
            keys.remove_prefix(plus + 1);
        }
    }
    return words;
}

bool button(Ui& ui, const char* english, Weight weight, const std::optional<Sentence>& why_not, const char* shortcut) {
    const Theme& theme = ui.theme;
    ImGui::PushID(english);
    ImGui::BeginDisabled(why_not.has_value());
    if (weight == Weight::main) {
        ImGui::PushStyleColor(ImGuiCol_Button, vec(theme.accent));
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, vec(theme.accent));
        ImGui::PushStyleColor(ImGuiCol_ButtonActive, vec(theme.accent));
        ImGui::PushStyleColor(ImGuiCol_Text, vec(theme.on_accent));
        ImGui::PushFont(ui.fonts.bold);
    } else if (weight == Weight::quiet) {
        ImGui::PushStyleColor(ImGuiCol_Button, vec(0));
        ImGui::PushStyleColor(ImGuiCol_Border, vec(0));
    }
    const bool pressed = ImGui::Button(ui.tr(english));
    if (weight == Weight::main) {
        ImGui::PopFont();
        ImGui::PopStyleColor(4);
    } else if (weight == Weight::quiet)
        ImGui::PopStyleColor(2);
    ImGui::EndDisabled();
    note(ui, english, !why_not);
    tip(ui, why_not ? ui.words(*why_not) : shortcut ? key_words(ui, shortcut) : std::string());
    ImGui::PopID();
    return pressed;
}

void action_button(Ui& ui, const Session& session, Actions& out, const char* english, const Action& action,
                   Weight weight, const char* shortcut) {
    if (button(ui, english, weight, session.why_not(action), shortcut))
        out.push_back(action);
}

void same_line_if_room(const Ui& ui, const char* label) {
    const float width = ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x;
    const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + ui.px(4) + width <= end)
        ImGui::SameLine(0, ui.px(4));
}

// SameLine() with an offset counts from the group it stands in; this counts from the window.
void same_line_ending_at_right(float width) {
    ImGui::SameLine(0, 0);
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    ImGui::SetCursorScreenPos({right - width, ImGui::GetCursorScreenPos().y});
}

void same_line_right(const Ui&, const char* label) {
    same_line_ending_at_right(ImGui::CalcTextSize(label).x + 2 * ImGui::GetStyle().FramePadding.x);
}

std::optional<int> choice(Ui& ui, const char* id, const std::vector<const char*>& english, int chosen) {
    std::optional<int> result;
    ImGui::PushID(id);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(3), ui.px(4)});
    for (int k = 0; k < static_cast<int>(english.size()); ++k) {
        const char* word = english[static_cast<std::size_t>(k)];
        if (k > 0)
            same_line_if_room(ui, ui.tr(word));
        if (k == chosen) {
            ImGui::PushStyleColor(ImGuiCol_Button, vec(ui.theme.accent_wash));
            ImGui::PushStyleColor(ImGuiCol_Border, vec(ui.theme.accent));
        }
        if (ImGui::Button(ui.tr(word)))
            result = k;
        if (k == chosen)
            ImGui::PopStyleColor(2);
        note(ui, word);
        if (k != std::max(chosen, 0))
            pass_by(ui);
    }
    ImGui::PopStyleVar();
    ImGui::PopID();
    return result;
}

bool check(Ui& ui, const char* english, bool on) {
    bool value = on;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(3), ui.px(3)});
    ImGui::Checkbox(ui.tr(english), &value);
    ImGui::PopStyleVar();
    note(ui, english);
    return value != on;
}

bool radio(Ui& ui, const char* english, bool on) {
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(3), ui.px(3)});
    const bool pressed = ImGui::RadioButton(ui.tr(english), on);
    ImGui::PopStyleVar();
    note(ui, english);
    return pressed;
}

bool wrapped_row(Ui& ui, const std::string& text, bool chosen, ImGuiSelectableFlags flags, float height) {
    const float width = ImGui::GetContentRegionAvail().x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::PushID(text.c_str());
    height = std::max(height, ImGui::CalcTextSize(text.c_str(), nullptr, false, width).y);
    const bool clicked = ImGui::Selectable("##row", chosen, flags, {0, height});
    ImGui::PopID();
    ImGui::GetWindowDrawList()->AddText(ImGui::GetFont(), ImGui::GetFontSize(), at, ui.theme.ink, text.c_str(), nullptr,
                                        width);
    return clicked;
}

} // namespace holdtrue::app
