#include "app/dialogs.h"

#include "app/shortcuts.h"
#include "app/ui/file_list.h"

#include <imgui_stdlib.h>

#include <algorithm>

namespace holdtrue::app {

namespace {

void centre_next_window(float width) {
    const ImGuiIO& io = ImGui::GetIO();
    ImGui::SetNextWindowPos({io.DisplaySize.x / 2, io.DisplaySize.y / 2}, ImGuiCond_Always, {0.5f, 0.5f});
    ImGui::SetNextWindowSize({std::min(width, io.DisplaySize.x * 0.9f), 0}, ImGuiCond_Always);
}

// Until EndPopup(), if it is open.
bool begin_dialog(const char* name, float width) {
    centre_next_window(width);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1); // it lies over sheets of its own colour
    const bool open = ImGui::BeginPopupModal(
        name, nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove);
    ImGui::PopStyleVar();
    return open;
}

// A button that does something and ends the dialog.
void answer(Ui& ui, const char* english, Action action, Actions& out, Weight weight = Weight::plain) {
    if (button(ui, english, weight)) {
        out.push_back(std::move(action));
        ImGui::CloseCurrentPopup();
    }
}

void draw_shortcuts(Ui& ui, const Session& session, Actions& out) {
    if (!session.view().shortcuts_shown)
        return;
    ImGui::OpenPopup("keys");
    if (!begin_dialog("keys", ui.px(1150)))
        return;
    title(ui, ui.tr("Keys"));
    const std::vector<Shortcut> list = shortcuts(session);
    constexpr std::size_t columns = 3; // of a key and its words each
    if (ImGui::BeginTable("keys", 2 * columns)) {
        const std::size_t rows = (list.size() + columns - 1) / columns;
        for (std::size_t column = 0; column < columns; ++column) {
            ImGui::TableSetupColumn("key", ImGuiTableColumnFlags_WidthStretch, 0.48f);
            ImGui::TableSetupColumn("words", ImGuiTableColumnFlags_WidthStretch, 1.0f);
        }
        for (std::size_t row = 0; row < rows; ++row) {
            ImGui::TableNextRow();
            for (std::size_t k = row; k < columns * rows; k += rows) {
                ImGui::TableNextColumn();
                if (k < list.size()) {
                    ImGui::PushFont(ui.fonts.bold);
                    ImGui::TextUnformatted(key_words(ui, list[k].keys).c_str());
                    ImGui::PopFont();
                }
                ImGui::TableNextColumn();
                if (k < list.size())
                    wrapped(ui, ui.tr(list[k].english));
            }
        }
        ImGui::EndTable();
    }
    quiet_text(
        ui,
        ui.tr("Mouse in the view: drag to turn, Shift and drag (or middle button) to shift, wheel to come "
              "nearer. Tab walks through the controls, Ctrl+Tab from sheet to sheet, the arrow keys to what is beside; "
              "Space or Enter presses the one in the frame; a digit typed at a number begins to type; the arrow keys "
              "and PageDown scroll a text in the frame."));
    answer(ui, worded("Close"), act::Toggle{act::Switch::shortcuts}, out, Weight::main);
    ImGui::EndPopup();
}

void draw_unsaved_question(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    if (session.question() != Question::save_first || question.asked())
        return;
    ImGui::OpenPopup("unsaved");
    if (!begin_dialog("unsaved", ui.px(460)))
        return;
    title(ui, ui.tr("The plan has changes that are not saved."));
    if (button(ui, worded("Save"), Weight::main)) {
        if (session.plan().file.empty())
            question.ask(FileWish::save_plan); // and then goes on
        else
            out.push_back(act::Save{});
        ImGui::CloseCurrentPopup();
    }
    ImGui::SameLine();
    answer(ui, worded("Go on without saving"), act::GoOn{}, out);
    ImGui::SameLine();
    answer(ui, worded("Stay"), act::StayOpen{}, out);
    ImGui::EndPopup();
}

void draw_unfinished_question(Ui& ui, const Session& session, Actions& out) {
    if (session.question() != Question::hand_in_unfinished)
        return;
    ImGui::OpenPopup("unfinished");
    if (!begin_dialog("unfinished", ui.px(520)))
        return;
    title(ui, ui.tr("The plan is not finished."));
    const std::vector<Sentence> lacks = session.unfinished();
    constexpr std::size_t told = 6;
    for (std::size_t k = 0; k < std::min(told, lacks.size()); ++k)
        wrapped(ui, ui.words(lacks[k]));
    if (lacks.size() > told)
        wrapped(ui, ui.words({worded("And {0} more."), {std::to_string(lacks.size() - told)}}));
    answer(ui, worded("Work on"), act::StayOpen{}, out, Weight::main);
    ImGui::SameLine();
    answer(ui, worded("Hand it in as it is"), act::GoOn{}, out);
    ImGui::EndPopup();
}

void draw_recovery_question(Ui& ui, const Session& session, Actions& out) {
    if (session.question() != Question::recover)
        return;
    ImGui::OpenPopup("recover");
    if (!begin_dialog("recover", ui.px(460)))
        return;
    title(ui, ui.tr("The program did not end well last time."));
    wrapped(ui, ui.tr("A plan that was not saved has been kept."));
    answer(ui, worded("Take it up again"), act::Recover{}, out, Weight::main);
    ImGui::SameLine();
    answer(ui, worded("Throw it away"), act::ForgetRecovery{}, out);
    ImGui::EndPopup();
}

// What each wish is called on its button, and which files can meet it.
struct Asked {
    const char* english;
    std::vector<std::string> endings; // none: a folder
};
Asked asked_of(FileWish wish) {
    switch (wish) {
    case FileWish::save_plan:
        return {worded("Save plan"), {".plan.toml"}};
    case FileWish::hand_in:
        return {worded("Hand in"), {".handin.zip"}};
    case FileWish::class_exercise:
        return {worded("Choose the exercise"), {".exercise.toml"}};
    case FileWish::class_folder:
        return {worded("Choose the folder"), {}};
    case FileWish::class_table:
        return {worded("Save the table"), {".csv"}};
    case FileWish::class_report:
        return {worded("Save the report"), {".pdf"}};
    default:
        return {worded("Open"), {".exercise.toml", ".plan.toml", ".handout.zip", ".handin.zip"}};
    }
}

Action answer_to(FileWish wish, const Session& session, const std::filesystem::path& file) {
    const ClassChoice& choice = session.class_choice();
    switch (wish) {
    case FileWish::save_plan:
        return act::SaveAs{file};
    case FileWish::hand_in:
        return act::HandIn{file};
    case FileWish::class_exercise:
        return act::ChooseClass{file, choice.folder};
    case FileWish::class_folder:
        return act::ChooseClass{choice.exercise, file};
    case FileWish::class_table:
        return act::SaveClassTable{file};
    case FileWish::class_report:
        return act::SaveClassReport{file};
    default:
        return act::Open{file};
    }
}

// Of a file to be saved; empty for one to be opened.
std::string suggested_name(const Session& session, FileWish wish) {
    const auto joined = [&](std::string name, const char* ending) {
        const std::string& trainee = session.plan().trainee;
        for (const char letter : trainee.empty() ? std::string() : "." + trainee)
            name += letter == ' ' || letter == '/' ? '_' : letter;
        return name + ending;
    };
    switch (wish) {
    case FileWish::save_plan:
        return joined(session.exercise().name, ".plan.toml");
    case FileWish::hand_in:
        return joined(session.exercise().name, ".handin.zip");
    case FileWish::class_table:
        return "marks.csv";
    case FileWish::class_report:
        return "marks.pdf";
    default:
        return {};
    }
}

void draw_file_question(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    if (!question.asked())
        return;
    const Asked asked = asked_of(question.wish);
    if (!question.shown) {
        ImGui::OpenPopup("file");
        const bool of_class = question.wish == FileWish::class_folder;
        const std::string suggested = suggested_name(session, question.wish);
        out.push_back(
            act::LookInto{of_class ? session.class_choice().folder : std::filesystem::path(), !suggested.empty()});
        question.typed = suggested;
        question.shown = true;
    }
    if (!begin_dialog("file", ui.px(640)))
        return;
    title(ui, ui.tr(asked.english));
    const bool chosen = draw_file_list(ui, session, asked.endings, question.typed, out);
    if (ImGui::IsWindowAppearing())
        ImGui::SetKeyboardFocusHere();
    ImGui::SetNextItemWidth(-1);
    const bool entered = ImGui::InputText("##file", &question.typed,
                                          ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
    note(ui, "file name");
    const bool pressed = button(ui, asked.english, Weight::main);
    ImGui::SameLine();
    const bool cancelled = button(ui, worded("Cancel")) || ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
    const bool folder_alone = asked.endings.empty(); // the one looked into, when nothing is typed
    const bool answered = (entered || pressed || chosen) && (folder_alone || !question.typed.empty());
    if (answered)
        out.push_back(answer_to(question.wish, session, session.looked_into().folder / question.typed));
    else if (cancelled && session.question() == Question::save_first)
        out.push_back(act::StayOpen{});
    if (answered || cancelled) {
        question.wish = FileWish::none;
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

} // namespace

void draw_dialogs(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    draw_shortcuts(ui, session, out);
    draw_unsaved_question(ui, session, question, out);
    draw_unfinished_question(ui, session, out);
    draw_recovery_question(ui, session, out);
    draw_file_question(ui, session, question, out);
}

} // namespace holdtrue::app
