#include "app/benches/class.h"

#include "app/benches/class_distribution.h"
#include "app/benches/common.h"

#include <algorithm>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

void draw_exercise_choice(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    const ClassChoice& chosen = session.class_choice();
    const auto shipped = std::ranges::find(session.exercises(), chosen.exercise, &ShippedExercise::file);
    const std::string name = shipped != session.exercises().end() ? std::string(ui.tr(shipped->title))
                             : chosen.exercise.empty()            ? std::string(ui.tr("choose …"))
                                                                  : chosen.exercise.filename().string();
    heading(ui, worded("The exercise it was given"));
    ImGui::SetNextItemWidth(-1);
    if (ImGui::BeginCombo("##exercise", name.c_str(), ImGuiComboFlags_HeightLarge)) {
        for (const ShippedExercise& exercise : session.exercises()) {
            if (ImGui::Selectable(ui.tr(exercise.title), exercise.file == chosen.exercise))
                out.push_back(act::ChooseClass{exercise.file, chosen.folder});
            note(ui, exercise.name.c_str());
        }
        ImGui::EndCombo();
    }
    note(ui, "class exercise");
    if (button(ui, worded("Another exercise file …"), Weight::quiet))
        question.ask(FileWish::class_exercise);
}

// Done plans of all; a plan is done when it has a mark or a problem.
int done_of(const record::ClassMarks& marks) {
    return static_cast<int>(std::ranges::count_if(
        marks.entries, [](const record::ClassEntry& entry) { return entry.mark || !entry.problem.empty(); }));
}

void draw_progress(Ui& ui, const Session& session, Actions& out) {
    const record::ClassMarks& marks = session.marked_class()->marks;
    const int all = static_cast<int>(marks.entries.size()), done = done_of(marks);
    share_bar(ui, all > 0 ? double(done) / all : 0, ui.theme.accent, 10);
    ImGui::TextUnformatted(
        ui.words({worded("{0} of {1} plans marked"), {std::to_string(done), std::to_string(all)}}).c_str());
    action_button(ui, session, out, worded("Stop marking"), act::StopMarking{});
}

void draw_summary(Ui& ui, const record::ClassSummary& summary, const MarkedClass& marked) {
    const auto number = [](double value) { return units::number_text(value, 1); };
    label_value(ui, worded("Plans"), std::to_string(summary.plans));
    label_value(ui, worded("Passed"), std::to_string(summary.passed));
    if (summary.not_marked > 0)
        label_value(ui, worded("Could not be marked"), std::to_string(summary.not_marked));
    if (summary.marked > 0) {
        label_value(ui, worded("Mean mark"), number(summary.mean));
        label_value(ui, worded("Middle mark"), number(summary.middle));
        label_value(ui, worded("Lowest, highest"), number(summary.lowest) + ",  " + number(summary.highest));
    }
    if (!marked.marks.left_out.empty())
        quiet_text(ui, ui.words({worded("Left out, as neither plan nor hand-in: {0}"),
                                 {text::all_of(marked.marks.left_out)}}));
    if (const text::Sentence copies = record::on_copies(marked.marks); marked.finished && !copies.empty())
        quiet_text(ui, ui.words(copies));
    if (!marked.finished)
        quiet_text(ui, ui.tr("Not all plans are marked yet."));
}

void draw_remarks(Ui& ui, const record::ClassMarks& marks) {
    constexpr Index shown_at_most = 5;
    const std::vector<record::CommonRemark> remarks = record::common_remarks(marks);
    if (remarks.empty())
        return;
    heading(ui, worded("Remarked most often"));
    for (Index k = 0; k < std::min(remarks.size(), shown_at_most); ++k) {
        wrapped(ui, ui.words({worded("In {0} plans: {1}"), {std::to_string(remarks[k].plans), remarks[k].topic}}));
        if (k > 0)
            continue;
        ImGui::PushFont(ui.fonts.small);
        quiet_text(ui, ui.words({worded("For one of them: {0}"), {remarks[k].example}}));
        ImGui::PopFont();
    }
}

// The first of what is to be said of a plan, and how much more there is.
void draw_told(Ui& ui, const std::string& told, bool problem) {
    const std::string::size_type end = told.find('\n');
    ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(problem ? ui.theme.bad : ui.theme.ink));
    wrapped(ui, told.substr(0, end));
    if (end != std::string::npos)
        wrapped(ui, ui.words({worded("and {0} more"), {std::to_string(std::ranges::count(told, '\n'))}}));
    ImGui::PopStyleColor();
}

void draw_entry(Ui& ui, const record::ClassMarks& marks, Index index, Actions& out) {
    const record::ClassEntry& entry = marks.entries[index];
    const std::string told = ui.words(record::remark_on(marks, index)), file = entry.file.filename().string();
    ImGui::TableNextRow();
    // The column that takes the most lines comes first: it says how high the row is.
    ImGui::TableSetColumnIndex(4);
    ImGui::BeginGroup();
    draw_told(ui, told, !entry.problem.empty());
    ImGui::EndGroup();
    const float height = ImGui::GetItemRectSize().y;
    ImGui::TableSetColumnIndex(0);
    ImGui::PushID(static_cast<int>(index));
    if (wrapped_row(ui, file, false, ImGuiSelectableFlags_SpanAllColumns, height))
        out.push_back(act::OpenClassPlan{static_cast<int>(index)});
    note_row(ui, file.c_str());
    if (told.find('\n') != std::string::npos)
        tip(ui, told, 560);
    ImGui::PopID();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(entry.trainee.c_str());
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(entry.variant > 0 ? std::to_string(entry.variant).c_str() : "");
    ImGui::TableNextColumn();
    if (entry.mark) {
        verdict_sign(ui, entry.mark->passed ? grading::Verdict::pass : grading::Verdict::fail);
        ImGui::SameLine(0, ui.px(4));
        ImGui::TextUnformatted(units::number_text(entry.mark->total, 1).c_str());
    } else
        ImGui::TextDisabled("%s", entry.problem.empty() ? "…" : "–");
}

void draw_entries(Ui& ui, const record::ClassMarks& marks, Actions& out) {
    heading(ui, worded("Every plan; a click opens it"));
    if (!ImGui::BeginTable("plans", 5, ImGuiTableFlags_BordersInnerH))
        return;
    ImGui::TableSetupColumn(ui.tr("file"), ImGuiTableColumnFlags_WidthStretch, 1.1f);
    ImGui::TableSetupColumn(ui.tr("trainee"), ImGuiTableColumnFlags_WidthStretch, 0.7f);
    ImGui::TableSetupColumn(ui.tr("variant"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn(ui.tr("mark"), ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn(ui.tr("what is to be said"), ImGuiTableColumnFlags_WidthStretch, 1.6f);
    ImGui::TableHeadersRow();
    for (Index k = 0; k < marks.entries.size(); ++k)
        draw_entry(ui, marks, k, out);
    ImGui::EndTable();
}

void draw_saving(Ui& ui, const Session& session, FileQuestion& question) {
    const auto save = [&](const char* english, const Action& action, FileWish wish) {
        if (button(ui, english, Weight::plain, session.why_not(action)))
            question.ask(wish);
    };
    save(worded("Save the table …"), act::SaveClassTable{}, FileWish::class_table);
    ImGui::SameLine();
    save(worded("Save the report …"), act::SaveClassReport{}, FileWish::class_report);
}

} // namespace

void draw_class_choice(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    draw_exercise_choice(ui, session, question, out);
    ImGui::Dummy({0, ui.px(4)});
    heading(ui, worded("The folder of plans and hand-ins"));
    if (!session.class_choice().folder.empty())
        wrapped(ui, session.class_choice().folder.string());
    if (button(ui, worded("Choose the folder …")))
        question.ask(FileWish::class_folder);
    quiet_text(ui, ui.tr("Or drag the folder onto the window."));
    ImGui::Dummy({0, ui.px(6)});
    if (session.class_busy())
        draw_progress(ui, session, out);
    else
        action_button(ui, session, out, worded("Mark the class"), act::MarkClass{}, Weight::main);
    quiet_text(ui,
               ui.tr("Every mark is worked out from the plan itself; what a file says of its mark is not looked at."));
    const MarkedClass* marked = session.marked_class();
    if (!marked || marked->marks.entries.empty())
        return;
    ImGui::Dummy({0, ui.px(6)});
    draw_summary(ui, record::summary_of(marked->marks), *marked);
    ImGui::Dummy({0, ui.px(6)});
    draw_remarks(ui, marked->marks);
}

void draw_class(Ui& ui, const Session& session, FileQuestion& question, Actions& out) {
    const MarkedClass* marked = session.marked_class();
    if (!marked || marked->marks.entries.empty()) {
        title(ui, ui.tr("No class is marked yet"));
        quiet_text(
            ui,
            ui.tr("Choose the exercise and the folder of what was handed in; marks appear here as they are found."));
        return;
    }
    title(ui, ui.tr(marked->exercise->title));
    draw_saving(ui, session, question);
    ImGui::BeginChild("distribution", {0, ui.px(170)});
    draw_distribution(ui, record::summary_of(marked->marks), marked->exercise->pass_mark);
    ImGui::EndChild();
    draw_entries(ui, marked->marks, out);
}

} // namespace holdtrue::app
