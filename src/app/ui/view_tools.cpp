#include "app/ui/overlay.h"

#include <array>

namespace holdtrue::app {

namespace {

// What can be changed about the picture: its colours, lines, numbers and shape.
void draw_choices(const Overlay& overlay, Actions& out) {
    if (!ImGui::BeginPopup("view"))
        return;
    Ui& ui = overlay.ui;
    const View& view = overlay.session.view();
    if (overlay.wish.outcome) {
        heading(ui, worded("Colours on the part"));
        constexpr std::array fields{Field::temperature, Field::peak, Field::temper_colours, Field::none};
        constexpr std::array names{worded("Temperature"), worded("Highest"), worded("Temper colours"),
                                   worded("Bare metal")};
        for (std::size_t k = 0; k < fields.size(); ++k) {
            if (radio(ui, names[k], overlay.wish.field == fields[k]))
                out.push_back(act::ShowField{fields[k]});
        }
        if (check(ui, worded("Isotherms"), view.isotherms))
            out.push_back(act::Toggle{act::Switch::isotherms});
    }
    if (check(ui, worded("Numbers of the moves"), view.numbers))
        out.push_back(act::Toggle{act::Switch::numbers});
    if (overlay.wish.outcome && !overlay.wish.outcome->displacement_m.empty()) {
        if (check(ui, worded("Distorted shape"), view.deformed))
            out.push_back(act::Toggle{act::Switch::deformed});
        heading(ui, worded("Distortion drawn larger"));
        if (radio(ui, worded("as suits the part"), view.exaggeration == 0))
            out.push_back(act::SetExaggeration{0});
        for (const double factor : {1.0, 10.0, 30.0, 100.0}) {
            const std::string name = "×" + units::number_text(factor, 0);
            if (radio(ui, name.c_str(), view.exaggeration == factor))
                out.push_back(act::SetExaggeration{factor});
        }
    }
    ImGui::EndPopup();
}

} // namespace

float draw_view_buttons(const Overlay& overlay, Actions& out) {
    Ui& ui = overlay.ui;
    struct Entry {
        const char* english;
        Action action;
        const char* shortcut;
    };
    const Entry entries[]{{worded("Fit"), act::Fit{}, "F"},
                          {worded("Corner"), act::LookFrom{scene::StandardView::corner}, "Alt+1"},
                          {worded("Front"), act::LookFrom{scene::StandardView::front}, "Alt+2"},
                          {worded("Right"), act::LookFrom{scene::StandardView::right}, "Alt+3"},
                          {worded("Top"), act::LookFrom{scene::StandardView::top}, "Alt+4"},
                          {worded("Under"), act::LookFrom{scene::StandardView::bottom}, "Alt+5"}};
    ImGui::PushFont(ui.fonts.small);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(8), ui.px(4)});
    float width = ImGui::CalcTextSize(ui.tr("View")).x + ui.px(16);
    for (const Entry& entry : entries)
        width += ImGui::CalcTextSize(ui.tr(entry.english)).x + ui.px(16 + 4);
    const float left = overlay.origin.x + overlay.size.x - width - ui.px(8);
    ImGui::SetCursorScreenPos({left, overlay.origin.y + ui.px(10)});
    ImGui::PushID(overlay.wish.slot);
    for (const Entry& entry : entries) {
        if (button(ui, entry.english, Weight::plain, {}, entry.shortcut))
            out.push_back(entry.action);
        ImGui::SameLine(0, ui.px(4));
    }
    if (button(ui, worded("View")))
        ImGui::OpenPopup("view");
    ImGui::PopStyleVar();
    ImGui::PopFont();
    draw_choices(overlay, out);
    ImGui::PopID();
    ImGui::SetCursorScreenPos(overlay.origin); // the view itself is what takes the room
    return left;
}

} // namespace holdtrue::app
