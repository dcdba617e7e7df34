#include "app/session/format.h"
#include "app/ui/ui.h"
#include "units/typed_number.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace holdtrue::app {

namespace {

ImVec4 vec(Colour colour) { return ImGui::ColorConvertU32ToFloat4(colour); }

// In the field that was active last.
std::string text_last_typed() {
    const ImVector<ImWchar>& letters = ImGui::GetCurrentContext()->InputTextState.TextW;
    std::string text;
    for (const ImWchar letter : letters) {
        if (letter == 0)
            break;
        text += letter < 128 ? static_cast<char>(letter) : '?';
    }
    return text;
}

void reason_tooltip(const Ui& ui, const std::optional<Sentence>& why_not, const char* shortcut) {
    if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled))
        return;
    const std::string text = why_not ? ui.words(*why_not) : shortcut ? key_words(ui, shortcut) : std::string();
    if (text.empty())
        return;
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(ui.px(320));
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
}

// Broken at spaces only: the library's own wrapping would also part a number at its decimal point.
std::string lines_within(std::string text, float width) {
    std::size_t line = 0, last_space = std::string::npos;
    for (std::size_t k = 0; k <= text.size(); ++k) {
        if (k < text.size() && text[k] != ' ' && text[k] != '\n')
            continue;
        if (last_space != std::string::npos && ImGui::CalcTextSize(&text[line], text.data() + k).x > width) {
            text[last_space] = '\n';
            line = last_space + 1;
        }
        const bool ends = k < text.size() && text[k] == '\n';
        last_space = ends ? std::string::npos : k;
        if (ends)
            line = k + 1;
    }
    return text;
}

} // namespace

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

std::string Ui::words(const Sentence& sentence) const { return translation.say(sentence); }

void note(Ui& ui, const char* english, bool enabled) {
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
    const ImVec2 middle{(low.x + high.x) / 2, (low.y + high.y) / 2};
    const ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 clip_low = draw.GetClipRectMin(), clip_high = draw.GetClipRectMax();
    const bool in_sight =
        middle.x >= clip_low.x && middle.x < clip_high.x && middle.y >= clip_low.y && middle.y < clip_high.y;
    ui.placed.push_back({english, low, high, enabled, in_sight, ImGui::GetItemID(), ImGui::GetCurrentWindow()});
}

void pass_by(Ui& ui) { ui.placed.back().stop = false; }

void note_row(Ui& ui, const char* english) {
    note(ui, english);
    Placed& row = ui.placed.back();
    const ImVec2 clip_low = ImGui::GetWindowDrawList()->GetClipRectMin(),
                 clip_high = ImGui::GetWindowDrawList()->GetClipRectMax();
    row.high.x = std::min(row.high.x, clip_high.x);
    const float middle = (row.low.y + row.high.y) / 2;
    row.in_sight = row.low.x < row.high.x && middle >= clip_low.y && middle < clip_high.y;
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
    reason_tooltip(ui, why_not, shortcut);
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

bool wrapped_row(Ui& ui, const std::string& text, bool chosen, ImGuiSelectableFlags flags) {
    const float width = ImGui::GetContentRegionAvail().x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::PushID(text.c_str());
    const bool clicked =
        ImGui::Selectable("##row", chosen, flags, {0, ImGui::CalcTextSize(text.c_str(), nullptr, false, width).y});
    ImGui::PopID();
    ImGui::GetWindowDrawList()->AddText(ImGui::GetFont(), ImGui::GetFontSize(), at, ui.theme.ink, text.c_str(), nullptr,
                                        width);
    return clicked;
}

bool number_field(Ui& ui, const char* english, double& value, const char* format, double low, double high,
                  double step) {
    ImGui::PushID(english);
    const float height = ImGui::GetFrameHeight();
    const double before = value;
    ImGui::PushButtonRepeat(true);
    if (ImGui::Button("−", {height, height}))
        value -= step;
    note(ui, (std::string("less ") + english).c_str());
    pass_by(ui);
    ImGui::SameLine(0, ui.px(3));
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - height - ui.px(3));
    const bool typing = ImGui::GetCurrentContext()->TempInputId == ImGui::GetID("##value");
    ImGui::SliderScalar("##value", ImGuiDataType_Double, &value, &low, &high, format);
    // What was typed is read again: the slider itself takes "1/4" for 1.
    if (typing && ImGui::IsItemDeactivatedAfterEdit())
        if (const auto typed = units::typed_number(text_last_typed()))
            value = typed->value;
    note(ui, english);
    ui.placed.back().number = true;
    ImGui::SameLine(0, ui.px(3));
    if (ImGui::Button("+", {height, height}))
        value += step;
    note(ui, (std::string("more ") + english).c_str());
    pass_by(ui);
    ImGui::PopButtonRepeat();
    ImGui::PopID();
    value = std::clamp(value, low, high);
    return std::abs(value - before) > 1e-12;
}

bool quantity_field(Ui& ui, const char* english, double& si, const units::Dimension& dimension, double low_si,
                    double high_si, double step_shown) {
    const ShownUnit as = shown(dimension, ui.units);
    const double low = as.unit.from_si(low_si), high = as.unit.from_si(high_si);
    ImGui::TextUnformatted(ui.tr(english));
    const std::string range = units::number_text(low, as.decimals) + " – " + units::number_text(high, as.decimals) +
                              " " + std::string(as.unit.label);
    ImGui::PushFont(ui.fonts.small);
    same_line_ending_at_right(ImGui::CalcTextSize(range.c_str()).x);
    ImGui::TextDisabled("%s", range.c_str());
    ImGui::PopFont();
    const std::string format = "%." + std::to_string(as.decimals) + "f " + std::string(as.unit.label);
    double value = as.unit.from_si(si);
    if (!number_field(ui, english, value, format.c_str(), low, high, step_shown))
        return false;
    si = as.unit.to_si(value);
    return true;
}

void heading(Ui& ui, const char* english) {
    ImGui::PushFont(ui.fonts.bold);
    wrapped(ui, ui.tr(english));
    ImGui::PopFont();
}

void title(Ui& ui, const std::string& text) {
    ImGui::PushFont(ui.fonts.title);
    ImGui::PushTextWrapPos(0);
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopTextWrapPos();
    ImGui::PopFont();
}

void quiet_text(Ui& ui, const std::string& text) {
    ImGui::PushStyleColor(ImGuiCol_Text, vec(ui.theme.quiet));
    wrapped(ui, text);
    ImGui::PopStyleColor();
}

void wrapped(Ui&, const std::string& text) {
    ImGui::PushTextWrapPos(0); // for a word, such as a path, that is longer than a line
    ImGui::TextUnformatted(lines_within(text, ImGui::GetContentRegionAvail().x).c_str());
    ImGui::PopTextWrapPos();
}

void label_value(Ui& ui, const Sentence& label, const std::string& value) {
    quiet_text(ui, ui.words(label));
    ImGui::PushFont(ui.fonts.bold);
    const float width = ImGui::CalcTextSize(value.c_str()).x;
    const float right = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    if (ImGui::GetItemRectMax().x + ui.px(8) <= right - width)
        same_line_ending_at_right(width);
    else // no room beside the label: below it
        ImGui::SetCursorScreenPos({right - width, ImGui::GetCursorScreenPos().y});
    ImGui::TextUnformatted(value.c_str());
    ImGui::PopFont();
}

Colour colour_of(const Theme& theme, grading::Verdict verdict) {
    return verdict == grading::Verdict::pass      ? theme.good
           : verdict == grading::Verdict::caution ? theme.caution
                                                  : theme.bad;
}

void verdict_sign(Ui& ui, grading::Verdict verdict) {
    const float size = ImGui::GetTextLineHeight();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy({size, size});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const Colour colour = colour_of(ui.theme, verdict);
    const float thick = ui.px(2);
    const auto point = [&](double x, double y) {
        return ImVec2(at.x + static_cast<float>(x) * size, at.y + static_cast<float>(y) * size);
    };
    switch (verdict) {
    case grading::Verdict::pass:
        draw.AddLine(point(0.15, 0.55), point(0.4, 0.8), colour, thick);
        draw.AddLine(point(0.4, 0.8), point(0.85, 0.2), colour, thick);
        break;
    case grading::Verdict::caution:
        draw.AddTriangle(point(0.5, 0.1), point(0.93, 0.88), point(0.07, 0.88), colour, thick);
        draw.AddLine(point(0.5, 0.38), point(0.5, 0.62), colour, thick);
        draw.AddCircleFilled(point(0.5, 0.76), thick * 0.6f, colour);
        break;
    case grading::Verdict::fail:
        draw.AddLine(point(0.2, 0.2), point(0.8, 0.8), colour, thick);
        draw.AddLine(point(0.8, 0.2), point(0.2, 0.8), colour, thick);
        break;
    }
}

void share_bar(Ui& ui, double share, Colour colour, float height_px) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(height_px);
    ImGui::Dummy({width, height});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const float filled = width * static_cast<float>(std::clamp(share, 0.0, 1.0));
    draw.AddRectFilled(at, {at.x + width, at.y + height}, ui.theme.raised, height / 2);
    draw.AddRect(at, {at.x + width, at.y + height}, ui.theme.line, height / 2);
    if (filled > height)
        draw.AddRectFilled(at, {at.x + filled, at.y + height}, colour, height / 2);
}

void begin_sheet(Ui& ui, const char* id, ImVec2 size, bool scrolls) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(16), ui.px(14)});
    ImGui::BeginChild(id, size, false,
                      ImGuiWindowFlags_AlwaysUseWindowPadding |
                          (scrolls ? 0 : ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse));
    ImGui::PopStyleVar();
}

void end_sheet() { ImGui::EndChild(); }

void begin_above_footer(const char* id) {
    const float footer = ImGui::GetFrameHeight() + ImGui::GetStyle().ItemSpacing.y;
    ImGui::BeginChild(id, {0, -footer});
}

} // namespace holdtrue::app
