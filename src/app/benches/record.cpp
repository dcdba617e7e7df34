#include "app/benches/benches.h"
#include "app/benches/class.h"
#include "app/ui/plot.h"

#include <imgui_stdlib.h>

#include <algorithm>
#include <ctime>
#include <utility>

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
        note(ui, trainee.name.c_str());
        ImGui::PopID();
    }
    ImGui::SetNextItemWidth(-1);
    const bool entered =
        ImGui::InputTextWithHint("##name", ui.tr("name"), &state.name, ImGuiInputTextFlags_EnterReturnsTrue);
    note(ui, "trainee name");
    std::optional<Sentence> why;
    if (state.name.empty())
        why = Sentence(worded("Type a name first."));
    if ((button(ui, worded("Add"), Weight::plain, why) || entered) && !state.name.empty()) {
        out.push_back(act::AddTrainee{state.name});
        state.name.clear();
    }
    quiet_text(ui, ui.tr("Names and marks stay on this machine."));
}

// One chart per exercise: every attempt's mark, and the mark to pass.
void draw_progress(Ui& ui, const Session& session, const record::ExerciseProgress& progress) {
    ImGui::PushFont(ui.fonts.bold);
    ImGui::TextUnformatted(ui.tr(progress.title));
    ImGui::PopFont();
    const std::string best = ui.words({worded("attempts: {1}, best mark {0}"),
                                       {units::number_text(progress.best, 1), std::to_string(progress.marks.size())}});
    same_line_ending_at_right(ImGui::CalcTextSize(best.c_str()).x);
    ImGui::TextUnformatted(best.c_str());
    std::vector<PlotPoint> points;
    for (const double mark : progress.marks)
        points.push_back({static_cast<double>(points.size() + 1), mark});
    Plot plot;
    plot.x_text = plot.y_text = [](double value) { return units::number_text(value, 0); };
    plot.x_title = ui.tr("attempt");
    plot.y_title = ui.tr("mark of 100");
    plot.x_range = {0.5, std::max(static_cast<double>(points.size()), 4.0) + 0.5};
    plot.y_range = {0, 100};
    plot.x_is_count = plot.dots = true;
    const auto shipped = std::ranges::find(session.exercises(), progress.exercise, &ShippedExercise::name);
    if (shipped != session.exercises().end()) {
        plot.line_y = shipped->pass_mark;
        plot.line_title = ui.words({worded("passed from {0}"), {units::number_text(shipped->pass_mark, 0)}});
    }
    ImGui::BeginChild(progress.exercise.c_str(), {0, ui.px(150)});
    draw_plot(ui, plot, points);
    ImGui::EndChild();
    ImGui::Dummy({0, ui.px(6)});
}

void draw_attempts(Ui& ui, const Logbook& logbook, Actions& out) {
    if (!ImGui::BeginTable("attempts", 4, ImGuiTableFlags_BordersInnerH))
        return;
    ImGui::TableSetupColumn(ui.tr("when"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn(ui.tr("exercise"), ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn(ui.tr("time taken"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn(ui.tr("mark"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableHeadersRow();
    for (int k = 0; k < static_cast<int>(logbook.attempts().size()); ++k) {
        const record::Attempt& attempt = logbook.attempts()[static_cast<std::size_t>(k)];
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        ImGui::PushID(k);
        if (ImGui::Selectable(day_text(attempt.ended_ms).c_str(), false, ImGuiSelectableFlags_SpanAllColumns))
            out.push_back(act::OpenAttempt{k});
        note_row(ui, ("attempt " + std::to_string(k + 1)).c_str());
        ImGui::PopID();
        ImGui::TableNextColumn();
        ImGui::TextUnformatted(ui.tr(attempt.title));
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

// By lesson, from the questions' names "lesson/id".
void draw_answers(Ui& ui, const Session& session) {
    const std::vector<record::QuestionProgress>& questions = session.logbook().questions();
    bool headed = false;
    for (const lesson::Lesson& lesson : session.lessons()) {
        int asked = 0, right = 0;
        for (const record::QuestionProgress& one : questions)
            if (one.question.starts_with(lesson.name + "/")) {
                asked += one.asked;
                right += one.right;
            }
        if (asked == 0)
            continue;
        if (!std::exchange(headed, true)) {
            ImGui::Dummy({0, ui.px(6)});
            heading(ui, worded("Questions answered, by lesson"));
        }
        label_value(ui, Sentence::of_file(lesson.title),
                    ui.words({worded("{0} of {1} right"), {std::to_string(right), std::to_string(asked)}}));
        note(ui, lesson.name.c_str());
    }
}

void draw_own_record(Ui& ui, const Session& session, Actions& out) {
    const Logbook& logbook = session.logbook();
    if (!logbook.current()) {
        title(ui, ui.tr("Nobody is at the bench yet"));
        quiet_text(ui, ui.tr("Add your name, and every part you weld is kept here with its mark."));
    } else {
        title(ui, logbook.current()->name);
        for (const record::ExerciseProgress& progress : logbook.progress())
            draw_progress(ui, session, progress);
        ImGui::Dummy({0, ui.px(6)});
        heading(ui, worded("Attempts, latest first; a click opens the plan"));
        if (logbook.attempts().empty())
            quiet_text(ui, ui.tr("None yet: weld a plan."));
        else
            draw_attempts(ui, logbook, out);
        draw_answers(ui, session);
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
        draw_own_record(ui, session, out);
    end_sheet();
}

} // namespace holdtrue::app
