#include "app/benches/benches.h"
#include "app/benches/class.h"

#include <imgui_stdlib.h>

#include <algorithm>
#include <ctime>

namespace holdtrue::app {

namespace {

std::string day_text(record::Milliseconds at_ms) {
    const std::time_t seconds = static_cast<std::time_t>(at_ms / 1000);
    std::tm local{};
    ::localtime_r(&seconds, &local);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%d %H:%M", &local);
    return text;
}

void draw_trainees(Ui& ui, const Session& session, RecordState& state, Actions& out) {
    const Logbook& logbook = session.logbook();
    heading(ui, worded("Who is at the bench"));
    for (const record::Trainee& trainee : logbook.trainees()) {
        ImGui::PushID(static_cast<int>(trainee.id));
        const bool current = logbook.current() && logbook.current()->id == trainee.id;
        if (ImGui::Selectable(trainee.name.c_str(), current))
            out.push_back(act::ChooseTrainee{trainee.id});
        ImGui::PopID();
    }
    ImGui::SetNextItemWidth(-1);
    const bool entered =
        ImGui::InputTextWithHint("##name", ui.tr("name"), &state.name, ImGuiInputTextFlags_EnterReturnsTrue);
    note(ui, "trainee name");
    std::optional<Words> why;
    if (state.name.empty())
        why = Words{worded("Type a name first."), {}};
    if ((button(ui, worded("Add"), Weight::plain, why) || entered) && !state.name.empty()) {
        out.push_back(act::AddTrainee{state.name});
        state.name.clear();
    }
    quiet_text(ui, ui.tr("Names and marks stay on this machine."));
}

// One small chart per exercise: every attempt's mark, and the line to pass.
void draw_progress(Ui& ui, const record::ExerciseProgress& progress) {
    ImGui::TextUnformatted(progress.title.c_str());
    const std::string best = ui.words({worded("best {0}, {1} attempts"),
                                       {units::number_text(progress.best, 1), std::to_string(progress.marks.size())}});
    ImGui::SameLine(ImGui::GetContentRegionMax().x - ImGui::CalcTextSize(best.c_str()).x);
    ImGui::TextUnformatted(best.c_str());
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(44);
    ImGui::Dummy({width, height});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(at, {at.x + width, at.y + height}, ui.theme.raised, ui.px(4));
    const auto place = [&](std::size_t k) {
        const float x =
            progress.marks.size() < 2 ? 0.5f : static_cast<float>(k) / static_cast<float>(progress.marks.size() - 1);
        return ImVec2(at.x + ui.px(8) + x * (width - ui.px(16)),
                      at.y + height - ui.px(5) - (height - ui.px(10)) * static_cast<float>(progress.marks[k] / 100));
    };
    for (std::size_t k = 0; k < progress.marks.size(); ++k) {
        if (k > 0)
            draw.AddLine(place(k - 1), place(k), ui.theme.accent, ui.px(2));
        draw.AddCircleFilled(place(k), ui.px(4), ui.theme.accent);
    }
}

void draw_attempts(Ui& ui, const Logbook& logbook) {
    if (!ImGui::BeginTable("attempts", 4, ImGuiTableFlags_BordersInnerH))
        return;
    ImGui::TableSetupColumn(ui.tr("when"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn(ui.tr("exercise"), ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn(ui.tr("time taken"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn(ui.tr("mark"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableHeadersRow();
    for (const record::Attempt& attempt : logbook.attempts()) {
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(day_text(attempt.ended_ms).c_str());
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(attempt.title.c_str());
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(
            units::duration_text(static_cast<double>(attempt.ended_ms - attempt.started_ms) / 1000).c_str());
        ImGui::TableNextColumn();
        verdict_sign(ui, attempt.passed ? grading::Verdict::pass : grading::Verdict::fail);
        ImGui::SameLine(0, ui.px(4));
        ImGui::TextUnformatted(units::number_text(attempt.mark, 1).c_str());
    }
    ImGui::EndTable();
}

void draw_own_record(Ui& ui, const Logbook& logbook) {
    if (!logbook.current()) {
        title(ui, ui.tr("Nobody is at the bench yet"));
        quiet_text(ui, ui.tr("Add your name, and every part you weld is kept here with its mark."));
    } else {
        title(ui, logbook.current()->name);
        for (const record::ExerciseProgress& progress : logbook.progress())
            draw_progress(ui, progress);
        ImGui::Dummy({0, ui.px(6)});
        heading(ui, worded("Attempts, latest first"));
        if (logbook.attempts().empty())
            quiet_text(ui, ui.tr("None yet: weld a plan."));
        else
            draw_attempts(ui, logbook);
    }
}

} // namespace

void draw_record(Ui& ui, const Session& session, RecordState& state, FileQuestion& question, Actions& out) {
    const float height = ImGui::GetContentRegionAvail().y;
    const bool of_class = session.view().record_page == RecordPage::school_class;
    begin_sheet(ui, "who", {ui.px(316), height});
    if (const auto page = choice(ui, "page", {worded("Own record"), worded("Class")}, of_class ? 1 : 0))
        out.push_back(act::ShowRecordPage{static_cast<RecordPage>(*page)});
    ImGui::Dummy({0, ui.px(4)});
    if (of_class)
        draw_class_choice(ui, session, question, out);
    else
        draw_trainees(ui, session, state, out);
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    begin_sheet(ui, "record", {0, height});
    if (of_class)
        draw_class(ui, session, question, out);
    else
        draw_own_record(ui, session.logbook());
    end_sheet();
}

} // namespace holdtrue::app
