#include "app/shell.h"

#include "app/shortcuts.h"

#include <imgui_stdlib.h>

#include <algorithm>
#include <array>
#include <filesystem>

namespace holdtrue::app {

namespace {

constexpr std::array bench_names{worded("Brief"),   worded("Setup"),   worded("Order"),  worded("Weld"),
                                 worded("Inspect"), worded("Lessons"), worded("Record"), worded("Check")};

// Which steps of the job have something to show for them.
bool done(const Session& session, Bench bench) {
    if (!session.has_exercise())
        return false;
    switch (bench) {
    case Bench::brief: return session.view().bench != Bench::brief;
    case Bench::setup: return !session.plan().cards.empty() && session.plan_problems().empty() && !session.plan().moves.empty();
    case Bench::order: return passes_left(session.part(), session.plan()) == 0;
    case Bench::weld:
    case Bench::inspect: return session.marked_is_current();
    default: return false;
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
        draw.AddLine({centre.x - ui.px(1), centre.y + ui.px(4)}, {centre.x + ui.px(5), centre.y - ui.px(5)}, ink, ui.px(2));
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
            ImGui::GetWindowDrawList()->AddRectFilled({low.x + ui.px(8), high.y - ui.px(3)}, {high.x - ui.px(8), high.y}, ui.theme.accent);
        }
    }
}

void draw_recent(Ui& ui, const Session& session, Actions& out) {
    if (!ImGui::BeginMenu(ui.tr("Open recent"), !session.preferences().recent.empty()))
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

void draw_menu(Ui& ui, const Session& session, ShellState& state, Actions& out) {
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
        state.asks_open = true;
    note(ui, "Open …");
    draw_recent(ui, session, out);
    item(worded("New plan"), nullptr, act::NewPlan{});
    if (ImGui::MenuItem(ui.tr("Save plan"), "Ctrl+S", false, session.has_exercise())) {
        if (session.plan().file.empty())
            state.asks_save = true;
        else
            out.push_back(act::Save{});
    }
    if (ImGui::MenuItem(ui.tr("Save plan as …"), "Ctrl+Shift+S", false, session.has_exercise()))
        state.asks_save = true;
    ImGui::Separator();
    const Preferences& preferences = session.preferences();
    if (ImGui::BeginMenu(ui.tr("Language"))) {
        menu_choice(ui, "English", Language::english, preferences.language, act::SetLanguage{Language::english}, out);
        menu_choice(ui, "Español", Language::spanish, preferences.language, act::SetLanguage{Language::spanish}, out);
        ImGui::EndMenu();
    }
    if (ImGui::BeginMenu(ui.tr("Units"))) {
        menu_choice(ui, worded("Metric (mm, °C)"), units::System::metric, preferences.units,
                    act::SetUnits{units::System::metric}, out);
        menu_choice(ui, worded("Imperial (in, °F)"), units::System::imperial, preferences.units,
                    act::SetUnits{units::System::imperial}, out);
        ImGui::EndMenu();
    }
    if (ImGui::BeginMenu(ui.tr("Colours"))) {
        menu_choice(ui, worded("Light"), Shade::light, preferences.shade, act::SetShade{Shade::light}, out);
        menu_choice(ui, worded("Dark"), Shade::dark, preferences.shade, act::SetShade{Shade::dark}, out);
        ImGui::EndMenu();
    }
    if (ImGui::BeginMenu(ui.tr("Size of text"))) {
        menu_choice(ui, worded("As the screen says"), 0.0, preferences.scale, act::SetScale{0}, out);
        for (const double scale : {1.0, 1.25, 1.5, 2.0, 2.5})
            if (ImGui::MenuItem(("× " + units::number_text(scale, 2)).c_str(), nullptr, preferences.scale == scale))
                out.push_back(act::SetScale{scale});
        ImGui::EndMenu();
    }
    item(worded("Keys"), "F1", act::Toggle{act::Switch::shortcuts});
    ImGui::Separator();
    item(worded("Quit"), "Ctrl+Q", act::Quit{});
    ImGui::EndPopup();
}

void draw_top(Ui& ui, const Session& session, ShellState& state, Actions& out) {
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
    ImGui::SameLine(std::max(ImGui::GetWindowWidth() - width - ui.px(16), ImGui::GetItemRectMax().x - ImGui::GetWindowPos().x + ui.px(12)));
    ImGui::SetCursorPosY(ui.px(9));
    ImGui::Dummy({0, 0});
    draw_beside(ui, session, out);
    ImGui::SameLine(0, ui.px(8));
    draw_menu(ui, session, state, out);
    ImGui::EndChild();
}

// What went wrong with a file stays until it is dismissed; what an action said goes with the next one.
void draw_messages(Ui& ui, const Session& session, Actions& out) {
    if (!session.problems().empty()) {
        ImGui::PushStyleColor(ImGuiCol_ChildBg, ImGui::ColorConvertU32ToFloat4(ui.theme.sheet));
        const float line = ImGui::GetTextLineHeightWithSpacing();
        const auto shown = std::min<std::size_t>(session.problems().size(), 5);
        begin_sheet(ui, "problems", {0, line * static_cast<float>(shown) + ui.px(44)});
        verdict_sign(ui, grading::Verdict::fail);
        ImGui::SameLine();
        heading(ui, worded("This file has mistakes; nothing on the bench was changed."));
        ImGui::SameLine();
        if (button(ui, worded("Close"), Weight::plain, {}, "Esc"))
            out.push_back(act::DismissProblems{});
        for (const text::Problem& problem : session.problems())
            wrapped(ui, text::to_line(problem));
        end_sheet();
        ImGui::PopStyleColor();
    }
}

void draw_bottom(Ui& ui, const Session& session, Actions& out) {
    ImGui::SetCursorPosX(ui.px(16));
    ImGui::PushFont(ui.fonts.small);
    const Worker& worker = session.worker();
    if (worker.busy_with_weld()) {
        ImGui::TextUnformatted(ui.words({worded("Simulating: {0} %, move {1}"),
                                         {units::number_text(100 * worker.share(), 0), std::to_string(worker.move() + 1)}})
                                   .c_str());
    } else if (session.news())
        ImGui::TextUnformatted(ui.words(*session.news()).c_str());
    else if (session.has_exercise()) {
        std::string text = session.exercise().title;
        const auto& file = session.plan().file;
        text += "   ·   " + (file.empty() ? std::string(ui.tr("plan not saved yet")) : file.filename().string());
        if (session.unsaved() && !file.empty())
            text += std::string("  (") + ui.tr("changed") + ")";
        ImGui::TextDisabled("%s", text.c_str());
    } else
        ImGui::TextDisabled("%s", ui.tr("No exercise is open."));
    const std::string keys = std::string("F1  ") + ui.tr("keys");
    ImGui::SameLine(ImGui::GetWindowWidth() - ImGui::CalcTextSize(keys.c_str()).x - ui.px(16));
    ImGui::TextDisabled("%s", keys.c_str());
    ImGui::PopFont();
    (void)out;
}

void centre_next_window(float width) {
    const ImGuiIO& io = ImGui::GetIO();
    ImGui::SetNextWindowPos({io.DisplaySize.x / 2, io.DisplaySize.y / 2}, ImGuiCond_Always, {0.5f, 0.5f});
    ImGui::SetNextWindowSize({std::min(width, io.DisplaySize.x * 0.9f), 0}, ImGuiCond_Always);
}

void draw_shortcuts(Ui& ui, const Session& session, Actions& out) {
    if (!session.view().shortcuts_shown)
        return;
    ImGui::OpenPopup("keys");
    centre_next_window(ui.px(820));
    if (!ImGui::BeginPopupModal("keys", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove))
        return;
    title(ui, ui.tr("Keys"));
    const std::vector<Shortcut> list = shortcuts(session);
    if (ImGui::BeginTable("keys", 4)) {
        const std::size_t rows = (list.size() + 1) / 2;
        for (const char* column : {"k1", "w1", "k2", "w2"})
            ImGui::TableSetupColumn(column, ImGuiTableColumnFlags_WidthStretch, column[0] == 'k' ? 0.42f : 1.0f);
        for (std::size_t row = 0; row < rows; ++row) {
            ImGui::TableNextRow();
            for (const std::size_t k : {row, row + rows}) {
                ImGui::TableNextColumn();
                if (k < list.size()) {
                    ImGui::PushFont(ui.fonts.bold);
                    ImGui::TextUnformatted(list[k].keys);
                    ImGui::PopFont();
                }
                ImGui::TableNextColumn();
                if (k < list.size())
                    wrapped(ui, ui.tr(list[k].english));
            }
        }
        ImGui::EndTable();
    }
    quiet_text(ui, ui.tr("Mouse in the view: drag to turn, Shift and drag (or middle button) to shift, wheel to come nearer. Tab and the arrow keys walk through all controls."));
    if (button(ui, worded("Close"), Weight::main)) {
        out.push_back(act::Toggle{act::Switch::shortcuts});
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

void draw_quit_question(Ui& ui, const Session& session, ShellState& state, Actions& out) {
    if (session.question() != Question::save_before_quitting)
        return;
    ImGui::OpenPopup("quit");
    centre_next_window(ui.px(460));
    if (!ImGui::BeginPopupModal("quit", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize))
        return;
    title(ui, ui.tr("The plan has changes that are not saved."));
    if (button(ui, worded("Save"), Weight::main)) {
        if (session.plan().file.empty())
            state.asks_save = true;
        else {
            out.push_back(act::Save{});
            out.push_back(act::Quit{});
        }
        out.push_back(act::StayOpen{});
        ImGui::CloseCurrentPopup();
    }
    ImGui::SameLine();
    if (button(ui, worded("Quit without saving")))
        out.push_back(act::Quit{true});
    ImGui::SameLine();
    if (button(ui, worded("Stay"))) {
        out.push_back(act::StayOpen{});
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

void draw_recovery_question(Ui& ui, const Session& session, Actions& out) {
    if (session.question() != Question::recover)
        return;
    ImGui::OpenPopup("recover");
    centre_next_window(ui.px(460));
    if (!ImGui::BeginPopupModal("recover", nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize))
        return;
    title(ui, ui.tr("The program did not end well last time."));
    wrapped(ui, ui.tr("A plan that was not saved has been kept."));
    if (button(ui, worded("Take it up again"), Weight::main)) {
        out.push_back(act::Recover{});
        ImGui::CloseCurrentPopup();
    }
    ImGui::SameLine();
    if (button(ui, worded("Throw it away"))) {
        out.push_back(act::ForgetRecovery{});
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

void draw_file_questions(Ui& ui, const Session& session, ShellState& state, Actions& out) {
    const auto ask = [&](bool& asked, const char* id, const char* english, auto on_name) {
        if (asked) {
            ImGui::OpenPopup(id);
            asked = false;
        }
        centre_next_window(ui.px(560));
        if (!ImGui::BeginPopupModal(id, nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize))
            return;
        title(ui, ui.tr(english));
        if (ImGui::IsWindowAppearing())
            ImGui::SetKeyboardFocusHere();
        ImGui::SetNextItemWidth(-1);
        const bool entered = ImGui::InputText("##file", &state.file_name, ImGuiInputTextFlags_EnterReturnsTrue);
        note(ui, "file name");
        const bool pressed = button(ui, english, Weight::main);
        ImGui::SameLine();
        const bool cancelled = button(ui, worded("Cancel"));
        if ((entered || pressed) && !state.file_name.empty())
            on_name(std::filesystem::path(state.file_name));
        if (entered || pressed || cancelled)
            ImGui::CloseCurrentPopup();
        ImGui::EndPopup();
    };
    ask(state.asks_open, "open", worded("Open"), [&](const auto& file) { out.push_back(act::Open{file}); });
    ask(state.asks_save, "save", worded("Save plan"), [&](const auto& file) { out.push_back(act::SaveAs{file}); });
    (void)session;
}

void draw_bench(Ui& ui, const Session& session, ShellState& state, Actions& out) {
    switch (session.view().bench) {
    case Bench::brief: return draw_brief(ui, session, state.brief, out);
    case Bench::setup: return draw_setup(ui, session, state.setup, out);
    case Bench::order: return draw_order(ui, session, state.order, out);
    case Bench::weld: return draw_weld(ui, session, state.weld, out);
    case Bench::inspect: return draw_inspect(ui, session, state.inspect, out);
    case Bench::lessons: return draw_lessons(ui, session, state.lessons, out);
    case Bench::record: return draw_record(ui, session, state.record, out);
    case Bench::check: return draw_check(ui, session, state.check, out);
    }
}

} // namespace

void draw_shell(Ui& ui, const Session& session, ShellState& state, Actions& out) {
    const ImGuiIO& io = ImGui::GetIO();
    ui.placed.clear();
    const KeyRequests keys = read_keys(session, out);
    state.asks_open = state.asks_open || keys.open;
    state.asks_save = state.asks_save || keys.save_as;

    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(8), ui.px(8)});
    ImGui::Begin("window", nullptr,
                 ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoBringToFrontOnFocus |
                     ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleVar(2);
    draw_top(ui, session, state, out);
    draw_messages(ui, session, out);

    const float bottom = ui.px(28);
    ImGui::SetCursorPosX(ui.px(10));
    ImGui::PushStyleColor(ImGuiCol_ChildBg, ImGui::ColorConvertU32ToFloat4(0));
    ImGui::BeginChild("bench", {io.DisplaySize.x - ui.px(20), ImGui::GetContentRegionAvail().y - bottom}, false, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleColor();
    draw_bench(ui, session, state, out);
    ImGui::EndChild();
    draw_bottom(ui, session, out);
    ImGui::End();

    draw_shortcuts(ui, session, out);
    draw_quit_question(ui, session, state, out);
    draw_recovery_question(ui, session, out);
    draw_file_questions(ui, session, state, out);
}

} // namespace holdtrue::app
