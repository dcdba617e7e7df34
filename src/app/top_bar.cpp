#include "app/top_bar.h"

#include "app/ui/text_scale.h"

#include <algorithm>
#include <array>
#include <string>

namespace holdtrue::app {

namespace {

constexpr std::array bench_names{worded("Brief"),   worded("Setup"),   worded("Order"),  worded("Weld"),
                                 worded("Inspect"), worded("Lessons"), worded("Record"), worded("Check")};

// Which steps of the job have something to show for them.
bool done(const Session& session, Bench bench) {
    if (!session.has_exercise())
        return false;
    switch (bench) {
    case Bench::brief:
        return session.view().bench != Bench::brief;
    case Bench::setup:
        return !session.plan().cards.empty() && session.plan_problems().empty() && !session.plan().moves.empty();
    case Bench::order:
        return task_passes(session.exercise(), session.plan()).left == 0;
    case Bench::weld:
    case Bench::inspect:
        return session.marked_is_current();
    default:
        return false;
    }
}

void draw_step(Ui& ui, const Session& session, Bench bench, Actions& out) {
    const auto index = static_cast<std::size_t>(bench);
    const bool current = session.view().bench == bench;
    const char* name = ui.tr(bench_names[index]);
    ImGui::PushFont(current ? ui.fonts.bold : ui.fonts.text);
    const float radius = ui.px(13), width = 2 * radius + ui.px(8) + ImGui::CalcTextSize(name).x;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::PushID(static_cast<int>(index));
    if (ImGui::InvisibleButton("step", {width, 2 * radius}))
        out.push_back(act::ShowBench{bench});
    ImGui::PopID();
    note(ui, bench_names[index]);
    const bool hovered = ImGui::IsItemHovered() || ImGui::IsItemFocused();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 centre{at.x + radius, at.y + radius};
    const bool finished = done(session, bench);
    if (current)
        draw.AddCircleFilled(centre, radius, ui.theme.accent, 32);
    else {
        draw.AddCircleFilled(centre, radius, hovered ? ui.theme.accent_wash : ui.theme.sheet, 32);
        draw.AddCircle(centre, radius - 1, finished ? ui.theme.accent : ui.theme.line, 32, ui.px(1.5f));
    }
    const Colour ink = current ? ui.theme.on_accent : finished ? ui.theme.accent : ui.theme.quiet;
    if (finished && !current) {
        draw.AddLine({centre.x - ui.px(5), centre.y}, {centre.x - ui.px(1), centre.y + ui.px(4)}, ink, ui.px(2));
        draw.AddLine({centre.x - ui.px(1), centre.y + ui.px(4)}, {centre.x + ui.px(5), centre.y - ui.px(5)}, ink,
                     ui.px(2));
    } else {
        const std::string number = std::to_string(index + 1);
        const ImVec2 size = ImGui::CalcTextSize(number.c_str());
        draw.AddText({centre.x - size.x / 2, centre.y - size.y / 2}, ink, number.c_str());
    }
    draw.AddText({at.x + 2 * radius + ui.px(8), centre.y - ImGui::GetTextLineHeight() / 2},
                 current || hovered ? ui.theme.ink : ui.theme.quiet, name);
    ImGui::PopFont();
}

void draw_path(Ui& ui, const Session& session, Actions& out) {
    const float y = ImGui::GetCursorPosY();
    for (int k = 0; k < benches_of_the_job; ++k) {
        if (k > 0) {
            ImGui::SameLine(0, ui.px(8));
            const ImVec2 at = ImGui::GetCursorScreenPos();
            const float middle = at.y + ui.px(13);
            ImGui::GetWindowDrawList()->AddLine({at.x, middle}, {at.x + ui.px(20), middle}, ui.theme.line, ui.px(2));
            ImGui::Dummy({ui.px(20), ui.px(26)});
            ImGui::SameLine(0, ui.px(8));
        }
        ImGui::SetCursorPosY(y);
        draw_step(ui, session, benches[static_cast<std::size_t>(k)], out);
    }
}

void draw_beside(Ui& ui, const Session& session, Actions& out) {
    for (std::size_t k = benches_of_the_job; k < benches.size(); ++k) {
        const bool current = session.view().bench == benches[k];
        ImGui::SameLine(0, ui.px(2));
        ImGui::PushFont(current ? ui.fonts.bold : ui.fonts.text);
        if (button(ui, bench_names[k], Weight::quiet))
            out.push_back(act::ShowBench{benches[k]});
        ImGui::PopFont();
        if (current) {
            const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
            ImGui::GetWindowDrawList()->AddRectFilled({low.x + ui.px(8), high.y - ui.px(3)},
                                                      {high.x - ui.px(8), high.y}, ui.theme.accent);
        }
    }
}

bool begin_submenu(Ui& ui, const char* english, bool enabled = true) {
    const ImVec2 low = ImGui::GetCursorScreenPos(), size = ImGui::CalcTextSize(ui.tr(english));
    const bool open = ImGui::BeginMenu(ui.tr(english), enabled);
    ui.placed.push_back(
        {english, low, {low.x + size.x, low.y + size.y}, enabled}); // the last item may be in it already
    return open;
}

void draw_recent(Ui& ui, const Session& session, Actions& out) {
    if (!begin_submenu(ui, worded("Open recent"), !session.preferences().recent.empty()))
        return;
    for (const auto& file : session.preferences().recent)
        if (ImGui::MenuItem(file.filename().string().c_str()))
            out.push_back(act::Open{file});
    ImGui::EndMenu();
}

template <class Value, class Act>
void menu_choice(Ui& ui, const char* english, Value value, Value chosen, Act action, Actions& out) {
    if (ImGui::MenuItem(ui.tr(english), nullptr, value == chosen))
        out.push_back(action);
    note(ui, english);
}

void draw_menu(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    if (button(ui, worded("Menu")))
        ImGui::OpenPopup("menu");
    if (!ImGui::BeginPopup("menu"))
        return;
    const auto item = [&](const char* english, const char* keys, const Action& action) {
        if (ImGui::MenuItem(ui.tr(english), keys, false, !session.why_not(action)))
            out.push_back(action);
        note(ui, english);
    };
    if (ImGui::MenuItem(ui.tr("Open …"), "Ctrl+O"))
        question.ask(FileWish::open);
    note(ui, "Open …");
    draw_recent(ui, session, out);
    item(worded("New plan"), nullptr, act::NewPlan{});
    if (ImGui::MenuItem(ui.tr("Save plan"), "Ctrl+S", false, session.has_exercise())) {
        if (session.plan().file.empty())
            question.ask(FileWish::save_plan);
        else
            out.push_back(act::Save{});
    }
    if (ImGui::MenuItem(ui.tr("Save plan as …"), "Ctrl+Shift+S", false, session.has_exercise()))
        question.ask(FileWish::save_plan);
    if (ImGui::MenuItem(ui.tr("Hand in …"), nullptr, false, session.has_exercise()))
        question.ask(FileWish::hand_in);
    note(ui, "Hand in …");
    ImGui::Separator();
    const Preferences& preferences = session.preferences();
    if (begin_submenu(ui, worded("Language"))) {
        menu_choice(ui, "English", Language::english, preferences.language, act::SetLanguage{Language::english}, out);
        menu_choice(ui, "Español", Language::spanish, preferences.language, act::SetLanguage{Language::spanish}, out);
        ImGui::EndMenu();
    }
    if (begin_submenu(ui, worded("Units"))) {
        menu_choice(ui, worded("Metric (mm, °C)"), units::System::metric, preferences.units,
                    act::SetUnits{units::System::metric}, out);
        menu_choice(ui, worded("Imperial (in, °F)"), units::System::imperial, preferences.units,
                    act::SetUnits{units::System::imperial}, out);
        ImGui::EndMenu();
    }
    if (begin_submenu(ui, worded("Colours"))) {
        menu_choice(ui, worded("Light"), Shade::light, preferences.shade, act::SetShade{Shade::light}, out);
        menu_choice(ui, worded("Dark"), Shade::dark, preferences.shade, act::SetShade{Shade::dark}, out);
        ImGui::EndMenu();
    }
    if (begin_submenu(ui, worded("Size of text"))) {
        menu_choice(ui, worded("As the screen says"), 0.0, preferences.scale, act::SetScale{0}, out);
        for (const double scale : {1.0, 1.25, 1.5, 2.0, 2.5})
            menu_choice(ui, ("× " + units::number_text(scale, 2)).c_str(), scale, preferences.scale,
                        act::SetScale{scale}, out);
        if (const double most = scale_with_room(ImGui::GetIO().DisplaySize); most < largest_scale) {
            ImGui::PushTextWrapPos(ui.px(220));
            ImGui::TextUnformatted(
                ui.words({worded("This window has room for × {0} at most; a larger window has room for more."),
                          {units::number_text(most, 2)}})
                    .c_str());
            ImGui::PopTextWrapPos();
        }
        ImGui::EndMenu();
    }
    item(worded("Keys"), "F1", act::Toggle{act::Switch::shortcuts});
    ImGui::Separator();
    item(worded("Quit"), "Ctrl+Q", act::Quit{});
    ImGui::EndPopup();
}

} // namespace

void draw_top_bar(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(16), ui.px(10)});
    ImGui::PushStyleVar(ImGuiStyleVar_ChildRounding, 0);
    ImGui::BeginChild("top", {0, ui.px(48)}, false,
                      ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoScrollbar);
    ImGui::PopStyleVar(2);
    draw_path(ui, session, out);
    // The rest stands at the right end.
    float width = ImGui::CalcTextSize(ui.tr("Menu")).x;
    for (std::size_t k = benches_of_the_job; k < benches.size(); ++k)
        width += ImGui::CalcTextSize(ui.tr(bench_names[k])).x + ui.px(2);
    width += 8 * ImGui::GetStyle().FramePadding.x + ui.px(20);
    ImGui::SameLine(std::max(ImGui::GetWindowWidth() - width - ui.px(16),
                             ImGui::GetItemRectMax().x - ImGui::GetWindowPos().x + ui.px(12)));
    ImGui::SetCursorPosY(ui.px(9));
    ImGui::Dummy({0, 0});
    draw_beside(ui, session, out);
    ImGui::SameLine(0, ui.px(8));
    draw_menu(ui, session, question, out);
    ImGui::EndChild();
}

} // namespace holdtrue::app
