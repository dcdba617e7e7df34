#include "app/ui/surround.h"

#include <array>

namespace holdtrue::app {

namespace {

constexpr float padding = 8, gap = 4; // at scale 1

struct Entry {
    const char* english;
    Action action;
    const char* shortcut;
};
const std::vector<Entry>& entries() {
    using enum scene::StandardView;
    static const std::vector<Entry> table{{worded("Fit"), act::Fit{}, "F"},
                                          {worded("Corner"), act::LookFrom{corner}, "Alt+1"},
                                          {worded("Front"), act::LookFrom{front}, "Alt+2"},
                                          {worded("Right"), act::LookFrom{right}, "Alt+3"},
                                          {worded("Top"), act::LookFrom{top}, "Alt+4"},
                                          {worded("Under"), act::LookFrom{bottom}, "Alt+5"},
                                          {worded("Back"), act::LookFrom{back}, "Alt+6"},
                                          {worded("Left"), act::LookFrom{left}, "Alt+7"}};
    return table;
}

// What can be changed about the picture: where it is seen from, if its buttons have no room; its colours, lines,
// numbers and shape.
void draw_choices(Ui& ui, const Session& session, const PartViewWish& wish, bool folded, Actions& out) {
    if (!ImGui::BeginPopup("view"))
        return;
    if (folded)
        for (std::size_t k = 0; k < entries().size(); ++k) {
            if (k % 2 == 1)
                ImGui::SameLine(0, ui.px(gap));
            if (button(ui, entries()[k].english, Weight::plain, {}, entries()[k].shortcut)) {
                out.push_back(entries()[k].action);
                ImGui::CloseCurrentPopup();
            }
        }
    const View& view = session.view();
    if (wish.outcome) {
        heading(ui, worded("Colours on the part"));
        constexpr std::array fields{Field::temperature, Field::peak, Field::temper_colours, Field::none};
        constexpr std::array names{worded("Temperature"), worded("Highest"), worded("Temper colours"),
                                   worded("Bare metal")};
        for (std::size_t k = 0; k < fields.size(); ++k) {
            if (radio(ui, names[k], wish.field == fields[k]))
                out.push_back(act::ShowField{fields[k]});
        }
        if (check(ui, worded("Isotherms"), view.isotherms))
            out.push_back(act::Toggle{act::Switch::isotherms});
    }
    if (check(ui, worded("Numbers of the moves"), view.numbers))
        out.push_back(act::Toggle{act::Switch::numbers});
    if (wish.outcome && !wish.outcome->displacement_m.empty()) {
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

ViewButtons lay_view_buttons(const Ui& ui, float room) {
    ImGui::PushFont(ui.fonts.small);
    const float own = ImGui::CalcTextSize(ui.tr("View")).x + ui.px(2 * padding);
    float all = own;
    for (const Entry& entry : entries())
        all += ImGui::CalcTextSize(ui.tr(entry.english)).x + ui.px(2 * padding + gap);
    ImGui::PopFont();
    return all <= room ? ViewButtons{all, false} : ViewButtons{own, true};
}

void draw_view_buttons(Ui& ui, const Session& session, const PartViewWish& wish, const Surround& surround,
                       Actions& out) {
    ImGui::PushFont(ui.fonts.small);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(padding), ui.px(4)});
    ImGui::SetCursorScreenPos({surround.buttons.x, surround.buttons.y});
    ImGui::PushID(wish.slot);
    if (!surround.folded)
        for (const Entry& entry : entries()) {
            if (button(ui, entry.english, Weight::plain, {}, entry.shortcut))
                out.push_back(entry.action);
            ImGui::SameLine(0, ui.px(gap));
        }
    if (button(ui, worded("View")))
        ImGui::OpenPopup("view");
    ImGui::PopStyleVar();
    ImGui::PopFont();
    draw_choices(ui, session, wish, surround.folded, out);
    ImGui::PopID();
    ImGui::SetCursorScreenPos(surround.origin); // the view itself is what takes the room
}

} // namespace holdtrue::app
