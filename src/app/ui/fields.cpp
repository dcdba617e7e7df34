#include "app/session/format.h"
#include "app/ui/ui.h"
#include "text/true_minus.h"
#include "units/typed_number.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

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

// What was typed outside a field's range stays told below the field until the field has another value. Kept in the
// storage of the field's window, by the field's id.
class TypedOutside {
public:
    TypedOutside() : storage_(*ImGui::GetStateStorage()), id_(ImGui::GetID("typed outside")) {}

    void set(double typed) {
        storage_.SetFloat(id_, static_cast<float>(typed));
        storage_.SetFloat(taken(), std::nanf(""));
    }
    // Nothing where the value is no longer the one that was taken.
    std::optional<double> typed(double value) {
        const float typed = storage_.GetFloat(id_, std::nanf(""));
        if (std::isnan(typed))
            return std::nullopt;
        const float as_taken = storage_.GetFloat(taken(), std::nanf(""));
        if (std::isnan(as_taken))
            storage_.SetFloat(taken(), static_cast<float>(value));
        else if (as_taken != static_cast<float>(value)) {
            storage_.SetFloat(id_, std::nanf(""));
            return std::nullopt;
        }
        return static_cast<double>(typed);
    }

private:
    ImGuiID taken() const { return id_ + 1; }
    ImGuiStorage& storage_;
    ImGuiID id_;
};

std::string formatted(const char* format, double value) {
    char text[64];
    std::snprintf(text, sizeof text, format, value);
    return text;
}

} // namespace

bool number_field(Ui& ui, const char* english, double& value, const char* format, double low, double high,
                  double step) {
    ImGui::PushID(english);
    const float height = ImGui::GetFrameHeight();
    const double before = value;
    TypedOutside outside;
    const std::optional<double> typed_outside = outside.typed(value);
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
        if (const auto typed = units::typed_number(text_last_typed())) {
            value = typed->value;
            if (value < low || value > high)
                outside.set(value);
        }
    note(ui, english);
    ui.placed.back().number = true;
    ImGui::SameLine(0, ui.px(3));
    if (ImGui::Button("+", {height, height}))
        value += step;
    note(ui, (std::string("more ") + english).c_str());
    pass_by(ui);
    ImGui::PopButtonRepeat();
    if (typed_outside) {
        const std::string unit = std::string(format).substr(std::string_view(format).find_first_of("fg") + 1);
        ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(ui.theme.caution));
        wrapped(ui, ui.words({worded("{0} was typed. The field goes from {1} to {2}: it has taken {3}."),
                              {formatted(("%.6g" + unit).c_str(), *typed_outside), formatted(format, low),
                               formatted(format, high), formatted(format, before)}}));
        ImGui::PopStyleColor();
        note(ui, (std::string("outside ") + english).c_str());
    }
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
