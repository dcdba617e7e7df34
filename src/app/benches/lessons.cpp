#include "app/benches/benches.h"
#include "app/ui/plot.h"
#include "lesson/figure.h"
#include "lesson/translated.h"

#include <imgui_stdlib.h>

#include <algorithm>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

// Words one by one, so that bold and plain ones wrap together.
void flow(Ui& ui, const lesson::Line& line) {
    const float end = ImGui::GetWindowPos().x + ImGui::GetWindowContentRegionMax().x;
    const float start = ImGui::GetCursorScreenPos().x;
    const float space = ImGui::CalcTextSize(" ").x;
    float x = start;
    bool first = true;
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, ui.px(2)});
    for (const lesson::Run& run : line) {
        ImGui::PushFont(run.strong || run.code ? ui.fonts.bold : ui.fonts.text);
        std::size_t at = 0;
        while (at < run.text.size()) {
            const std::size_t word_end = std::min(run.text.find_first_of(" \n", at), run.text.size());
            const std::string word = run.text.substr(at, word_end - at);
            if (!word.empty()) {
                const float width = ImGui::CalcTextSize(word.c_str()).x;
                if (!first && x + width <= end) {
                    ImGui::SameLine(0, 0);
                    ImGui::SetCursorScreenPos({x, ImGui::GetCursorScreenPos().y});
                } else if (!first)
                    x = start;
                ImGui::TextUnformatted(word.c_str());
                x += width;
                first = false;
            }
            if (word_end < run.text.size())
                x = run.text[word_end] == '\n' ? 1e9f : x + space;
            at = word_end + 1;
        }
        ImGui::PopFont();
    }
    ImGui::PopStyleVar();
}

void draw_table(Ui& ui, const lesson::Block& block, int id) {
    if (block.rows.empty())
        return;
    ImGui::PushID(id);
    if (ImGui::BeginTable("table", static_cast<int>(block.rows.front().size()), ImGuiTableFlags_BordersInnerH)) {
        for (Index row = 0; row < block.rows.size(); ++row) {
            ImGui::TableNextRow();
            for (const lesson::Line& cell : block.rows[row]) {
                ImGui::TableNextColumn();
                ImGui::PushFont(row == 0 ? ui.fonts.bold : ui.fonts.text);
                wrapped(ui, lesson::plain_text(cell));
                ImGui::PopFont();
            }
        }
        ImGui::EndTable();
    }
    ImGui::PopID();
}

void draw_block(Ui& ui, const lesson::Block& block, int id) {
    using lesson::BlockKind;
    if (block.caution) {
        verdict_sign(ui, grading::Verdict::caution);
        ImGui::SameLine(0, ui.px(8));
        ImGui::BeginGroup();
    }
    switch (block.kind) {
    case BlockKind::heading:
        ImGui::Dummy({0, ui.px(4)});
        ImGui::PushFont(block.level <= 1 ? ui.fonts.title : ui.fonts.bold);
        wrapped(ui, lesson::plain_text(block.text));
        ImGui::PopFont();
        break;
    case BlockKind::item: {
        const float indent = ui.px(18) * static_cast<float>(std::max(block.level, 1));
        if (block.bullet) {
            ImGui::SetCursorPosX(ImGui::GetCursorPosX() + indent - ui.px(14));
            ImGui::TextUnformatted(block.number > 0 ? (std::to_string(block.number) + ".").c_str() : "•");
            ImGui::SameLine(0, ui.px(5));
        }
        ImGui::BeginGroup();
        flow(ui, block.text);
        ImGui::EndGroup();
        break;
    }
    case BlockKind::table:
        draw_table(ui, block, id);
        break;
    case BlockKind::rule:
        ImGui::Separator();
        break;
    case BlockKind::code:
        ImGui::PushFont(ui.fonts.bold);
        wrapped(ui, lesson::plain_text(block.text));
        ImGui::PopFont();
        break;
    case BlockKind::paragraph:
        flow(ui, block.text);
        break;
    }
    if (block.caution)
        ImGui::EndGroup();
    ImGui::Dummy({0, ui.px(2)});
}

void draw_figure(Ui& ui, const lesson::Figure& figure, LessonsState& state) {
    if (!figure.model)
        return;
    if (state.inputs.size() != figure.inputs.size())
        state.inputs = figure.inputs;
    heading(ui, worded("Try it"));
    wrapped(ui, figure.caption);
    const lesson::Curve curve = lesson::evaluate(figure, state.inputs);
    const lesson::Input& axis = figure.model->inputs[Index(figure.axis)];
    const lesson::Output& shown_output = figure.model->outputs[Index(figure.shown)];
    std::vector<PlotPoint> points;
    // Drawn in the units people read, so that the axes carry round numbers.
    const units::Unit& x_unit = axis.dimension->units[Index(axis.unit)];
    const units::Unit& y_unit = shown_output.dimension->units[Index(shown_output.unit)];
    for (Index k = 0; k < curve.x.size(); ++k)
        points.push_back({x_unit.from_si(curve.x[k]), y_unit.from_si(curve.y[k])});
    Plot plot;
    plot.x_text = [&](double x) { return lesson::with_unit(x_unit.to_si(x), *axis.dimension, axis.unit); };
    plot.y_text = [&](double y) {
        return lesson::with_unit(y_unit.to_si(y), *shown_output.dimension, shown_output.unit);
    };
    plot.x_title = ui.tr(std::string(axis.title));
    plot.y_title = ui.tr(std::string(shown_output.title));
    plot.marker_x = x_unit.from_si(curve.x_now);
    ImGui::BeginChild("figure", {0, ui.px(240)});
    if (const auto clicked = draw_plot(ui, plot, points))
        state.inputs[Index(figure.axis)] = x_unit.to_si(*clicked);
    ImGui::EndChild();
    for (const lesson::Slider& slider : figure.sliders) {
        const lesson::Input& input = figure.model->inputs[Index(slider.input)];
        const units::Unit& unit = input.dimension->units[Index(input.unit)];
        double value = unit.from_si(state.inputs[Index(slider.input)]);
        const double low = unit.from_si(slider.low), high = unit.from_si(slider.high);
        const std::string name(input.title);
        ImGui::TextUnformatted(ui.tr(name));
        if (number_field(ui, name.c_str(), value, ("%.4g " + std::string(unit.label)).c_str(), low, high,
                         (high - low) / 50))
            state.inputs[Index(slider.input)] = unit.to_si(value);
    }
    for (Index k = 0; k < figure.model->outputs.size() && k < curve.outputs_now.size(); ++k) {
        const lesson::Output& output = figure.model->outputs[k];
        label_value(ui, Sentence::of_file(std::string(output.title)),
                    lesson::with_unit(curve.outputs_now[k], *output.dimension, output.unit));
    }
    ImGui::PushFont(ui.fonts.small);
    quiet_text(ui, std::string(figure.model->source));
    ImGui::PopFont();
}

void judge_answer(const lesson::Lesson& lesson, LessonsState& state, Index index, const std::string& given,
                  Actions& out) {
    LessonsState::Asked& asked = state.asked[index];
    const lesson::Judgement judgement = lesson::judge(asked.posed, given);
    asked.answer = judgement;
    if (judgement != lesson::Judgement::not_understood)
        out.push_back(act::Answer{lesson.name + "/" + lesson.questions[index].id, given,
                                  judgement == lesson::Judgement::right, ImGui::GetTime() - asked.since_s});
}

void draw_question(Ui& ui, const lesson::Lesson& lesson, LessonsState& state, Index index, Actions& out) {
    LessonsState::Asked& asked = state.asked[index];
    ImGui::PushID(static_cast<int>(index));
    ImGui::PushFont(ui.fonts.bold);
    wrapped(ui, std::to_string(index + 1) + ". " + asked.posed.text);
    ImGui::PopFont();
    const bool answered = asked.answer && *asked.answer != lesson::Judgement::not_understood;
    if (answered && asked.posed.choices.empty()) {
        // A number is answered once; it stays to be read.
        const std::string given = asked.typed + (asked.posed.unit.empty() ? "" : " " + asked.posed.unit);
        wrapped(ui, ui.words({worded("Your answer: {0}"), {given}}));
        note(ui, "answer given");
    } else if (asked.posed.choices.empty()) {
        ImGui::SetNextItemWidth(ui.px(140));
        const bool entered = ImGui::InputText("##number", &asked.typed, ImGuiInputTextFlags_EnterReturnsTrue);
        note(ui, "answer");
        ImGui::SameLine();
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted(asked.posed.unit.c_str());
        ImGui::SameLine();
        if (button(ui, worded("Answer")) || entered)
            judge_answer(lesson, state, index, asked.typed, out);
    } else
        for (Index k = 0; k < asked.posed.choices.size(); ++k) {
            const std::string letter(1, static_cast<char>('a' + k));
            if (ImGui::RadioButton(("##" + letter).c_str(), asked.typed == letter) && !answered) {
                asked.typed = letter;
                judge_answer(lesson, state, index, letter, out);
            }
            note(ui, ("choice " + letter).c_str());
            ImGui::SameLine();
            wrapped(ui, asked.posed.choices[k]);
        }
    if (asked.answer == lesson::Judgement::not_understood)
        quiet_text(ui, ui.tr("That is not a number; type one."));
    if (answered) {
        const bool right = *asked.answer == lesson::Judgement::right;
        verdict_sign(ui, right ? grading::Verdict::pass : grading::Verdict::fail);
        ImGui::SameLine(0, ui.px(6));
        ImGui::BeginGroup();
        wrapped(ui, right ? ui.tr("Right.") : ui.words({worded("The answer is {0}."), {asked.posed.right_words}}));
        wrapped(ui, asked.posed.why);
        ImGui::EndGroup();
    }
    ImGui::Dummy({0, ui.px(6)});
    ImGui::PopID();
}

void open_lesson(LessonsState& state, int index) {
    state.chosen = index;
    state.inputs.clear();
    state.asked.clear();
    const lesson::Lesson& lesson = state.lessons[Index(index)];
    for (Index k = 0; k < lesson.questions.size(); ++k)
        state.asked.push_back({lesson::pose(lesson.questions[k], state.seed++), {}, {}, ImGui::GetTime()});
}

// The lesson that was open stays open, asked anew.
void translate_lessons(const Ui& ui, const Session& session, LessonsState& state) {
    if (state.lessons.size() == session.lessons().size() && state.language == ui.translation.language())
        return;
    state.language = ui.translation.language();
    state.lessons.clear();
    for (const lesson::Lesson& lesson : session.lessons())
        state.lessons.push_back(lesson::translated(lesson, ui.translation));
    if (!state.lessons.empty())
        open_lesson(state, std::clamp(state.chosen, 0, static_cast<int>(state.lessons.size()) - 1));
}

} // namespace

void draw_lessons(Ui& ui, const Session& session, LessonsState& state, Actions& out) {
    const float height = ImGui::GetContentRegionAvail().y;
    begin_sheet(ui, "list", {ui.px(300), height});
    heading(ui, worded("Lessons"));
    const float behind_number = ImGui::GetCursorPosX() + ImGui::CalcTextSize("00").x + ui.px(8);
    translate_lessons(ui, session, state);
    for (Index k = 0; k < state.lessons.size(); ++k) {
        const lesson::Lesson& lesson = state.lessons[k];
        const std::string number = std::to_string(lesson.number);
        ImGui::TextDisabled("%s", number.c_str());
        ImGui::SameLine(behind_number);
        if (wrapped_row(ui, lesson.title, state.chosen == static_cast<int>(k)))
            open_lesson(state, static_cast<int>(k));
        note(ui, lesson.name.c_str());
    }
    end_sheet();
    if (state.lessons.empty())
        return;
    const lesson::Lesson& lesson = state.lessons[Index(state.chosen)];
    ImGui::SameLine(0, ui.px(10));
    const float rest = ImGui::GetContentRegionAvail().x;
    begin_sheet(ui, ("text " + lesson.name).c_str(), {rest * 0.54f, height});
    title(ui, lesson.title);
    if (!ui.translation.language().empty() && !lesson.text_in.contains(ui.translation.language()))
        quiet_text(ui, ui.tr("The text of this lesson is in English."));
    quiet_text(ui, lesson.aim);
    ImGui::Dummy({0, ui.px(4)});
    int id = 0;
    for (const lesson::Block& block : lesson.text)
        draw_block(ui, block, id++);
    ImGui::PushFont(ui.fonts.small);
    for (const std::string& source : lesson.sources)
        quiet_text(ui, source);
    ImGui::PopFont();
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    begin_sheet(ui, ("try " + lesson.name).c_str(), {0, height});
    draw_figure(ui, lesson.figure, state);
    ImGui::Dummy({0, ui.px(8)});
    heading(ui, worded("Check yourself"));
    for (Index k = 0; k < state.asked.size(); ++k)
        draw_question(ui, lesson, state, k, out);
    end_sheet();
}

} // namespace holdtrue::app
