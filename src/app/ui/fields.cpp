#include "app/session/format.h"
#include "app/ui/ui.h"
#include "text/true_minus.h"
#include "units/typed_number.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

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

} // namespace

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
    const std::string range =
        text::true_minus(units::number_text(low, as.decimals) + " – " + units::number_text(high, as.decimals) + " " +
                         std::string(as.unit.label));
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

} // namespace holdtrue::app
