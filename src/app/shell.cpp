#include "app/shell.h"

#include "app/benches/common.h"
#include "app/shortcuts.h"
#include "app/top_bar.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

// What went wrong with a file stays until it is dismissed; what an action said goes with the next one.
void draw_messages(Ui& ui, const Session& session, Actions& out) {
    if (!session.problems().empty()) {
        ImGui::PushStyleColor(ImGuiCol_ChildBg, ImGui::ColorConvertU32ToFloat4(ui.theme.sheet));
        const float line = ImGui::GetTextLineHeightWithSpacing();
        const auto shown = std::min<std::size_t>(2 * session.problems().size(), 8); // lines: most problems take two
        begin_sheet(ui, "problems", {0, line * static_cast<float>(shown) + ui.px(44)});
        verdict_sign(ui, grading::Verdict::fail);
        ImGui::SameLine();
        heading(ui, worded("That did not work; nothing on the bench was changed."));
        ImGui::SameLine();
        if (button(ui, worded("Close"), Weight::plain, {}, "Esc"))
            out.push_back(act::DismissProblems{});
        for (const text::Problem& problem : session.problems()) {
            const std::string told = problem_words(ui, problem);
            wrapped(ui, told);
            note(ui, told.c_str());
        }
        end_sheet();
        ImGui::PopStyleColor();
    }
}

void draw_bottom(Ui& ui, const Session& session) {
    ImGui::SetCursorPosX(ui.px(16));
    ImGui::PushFont(ui.fonts.small);
    const Worker& worker = session.worker();
    if (worker.busy_with_weld()) {
        const std::string share = units::number_text(100 * worker.share(), 0);
        const bool cooling = worker.move() >= static_cast<int>(session.plan().moves.size());
        const Sentence words =
            cooling ? Sentence{worded("Simulating: {0} %, cooling down"), {share}}
                    : Sentence{worded("Simulating: {0} %, move {1}"), {share, std::to_string(worker.move() + 1)}};
        ImGui::TextUnformatted(ui.words(words).c_str());
    } else if (session.news())
        ImGui::TextUnformatted(ui.words(*session.news()).c_str());
    else if (session.has_exercise()) {
        std::string text = ui.tr(session.exercise().title);
        if (session.exercise().variant > 0)
            text += ", " + ui.words({worded("variant {0}"), {std::to_string(session.exercise().variant)}});
        if (!session.plan().trainee.empty())
            text += "   ·   " + session.plan().trainee;
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
}

void draw_bench(Ui& ui, const Session& session, ShellState& state, Actions& out) {
    switch (session.view().bench) {
    case Bench::brief:
        return draw_brief(ui, session, state.brief, out);
    case Bench::setup:
        return draw_setup(ui, session, state.setup, out);
    case Bench::order:
        return draw_order(ui, session, state.order, out);
    case Bench::weld:
        return draw_weld(ui, session, state.weld, out);
    case Bench::inspect:
        return draw_inspect(ui, session, state.inspect, out);
    case Bench::lessons:
        return draw_lessons(ui, session, state.lessons, out);
    case Bench::record:
        return draw_record(ui, session, state.record, state.file, out);
    case Bench::check:
        return draw_check(ui, session, state.check, out);
    }
}

} // namespace

void draw_shell(Ui& ui, const Session& session, ShellState& state, Actions& out) {
    const ImGuiIO& io = ImGui::GetIO();
    ui.placed.clear();
    state.frame.begin();
    const KeyRequests keys = read_keys(session, state.frame.on_number(), out);
    if (keys.open)
        state.file.ask(FileWish::open);
    if (keys.save_as)
        state.file.ask(FileWish::save_plan);

    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0, 0});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(8), ui.px(8)});
    ImGui::Begin("window", nullptr,
                 ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleVar(2);
    draw_top_bar(ui, session, state.file, out);
    draw_messages(ui, session, out);
    const std::size_t bench = ui.placed.size();

    const float bottom = ui.px(28);
    ImGui::SetCursorPosX(ui.px(10));
    ImGui::PushStyleColor(ImGuiCol_ChildBg, ImGui::ColorConvertU32ToFloat4(0));
    ImGui::BeginChild("bench", {io.DisplaySize.x - ui.px(20), ImGui::GetContentRegionAvail().y - bottom}, false,
                      ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    ImGui::PopStyleColor();
    draw_bench(ui, session, state, out);
    ImGui::EndChild();
    draw_bottom(ui, session);
    ImGui::End();

    draw_dialogs(ui, session, state.file, out);
    state.frame.end(ui, session, bench);
}

} // namespace holdtrue::app
