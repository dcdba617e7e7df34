#include "app/ui/ui.h"
#include "text/true_minus.h"

namespace holdtrue::app {

namespace {

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

std::string Ui::words(const Sentence& sentence) const { return text::true_minus(translation.say(sentence)); }

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
    ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(ui.theme.quiet));
    wrapped(ui, text);
    ImGui::PopStyleColor();
}

void wrapped(Ui&, const std::string& text) {
    ImGui::PushTextWrapPos(0); // for a word, such as a path, that is longer than a line
    ImGui::TextUnformatted(lines_within(text, ImGui::GetContentRegionAvail().x).c_str());
    ImGui::PopTextWrapPos();
}

void label_value(Ui& ui, const Sentence& label, const std::string& figure) {
    const std::string value = text::true_minus(figure);
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

} // namespace holdtrue::app
