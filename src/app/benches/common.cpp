#include "app/benches/common.h"

#include "arc/process_words.h"

#include <algorithm>

namespace holdtrue::app {

namespace {
using Index = std::size_t;
}

std::string describe_move(const Ui& ui, const part::Part& part, const weld::Plan& plan, int move) {
    const auto& what = plan.moves[Index(move)].what;
    if (const auto* weld = std::get_if<weld::WeldPass>(&what)) {
        const part::Pass& pass = part.passes[Index(weld->pass)];
        const text::Wording pattern = pass.kind == part::PassKind::tack
                                          ? (weld->reversed ? worded("Tack {0}, backwards") : worded("Tack {0}"))
                                      : weld->reversed                    ? worded("Weld {0}, backwards")
                                      : pass.kind == part::PassKind::plug ? worded("Fill {0}")
                                                                          : worded("Weld {0}");
        return ui.words({pattern, {pass.name}});
    }
    if (const auto* wait = std::get_if<weld::Wait>(&what)) {
        if (!wait->until_below_k)
            return ui.words({worded("Wait {0}"), {units::duration_text(wait->time_s)}});
        const std::string below = units::temperature_text(*wait->until_below_k, ui.units);
        return wait->time_s > 0
                   ? ui.words({worded("Wait {0}, then until below {1}"), {units::duration_text(wait->time_s), below}})
                   : ui.words({worded("Wait until below {0}"), {below}});
    }
    if (const auto* turn = std::get_if<weld::Turn>(&what))
        return ui.words({worded("Turn to '{0}'"), {Sentence::of_file(part.poses[Index(turn->pose)].name)}});
    const auto& clamp = std::get<weld::ClampMove>(what);
    return ui.words(
        {clamp.fix ? worded("Fix clamp '{0}'") : worded("Free clamp '{0}'"), {part.clamps[Index(clamp.clamp)].name}});
}

std::string wire_words(const Ui& ui, const arc::Wire& wire) {
    return wire.classification + ", " + units::length_text(wire.diameter_m, ui.units) + " (" +
           std::string(arc::process_number(wire.process)) + " " + ui.tr(arc::process_words(wire.process)) + ")";
}

std::string problem_words(const Ui& ui, const text::Problem& problem) {
    return text::to_line(problem, [&](const Sentence& sentence) { return ui.words(sentence); });
}

std::string setup_change_words(const Ui& ui, const weld::MoveOutcome& move) {
    std::string words;
    const auto add = [&](bool changed, const char* english) {
        if (changed)
            words += std::string(words.empty() ? "" : ", ") + ui.tr(english);
    };
    add(move.setup_change.wire, worded("change the wire"));
    add(move.setup_change.gas, worded("change the gas"));
    add(move.setup_change.dials, worded("set the dials"));
    return ui.words({worded("Before it: {0}, {1}"), {words, units::duration_text(move.setup_change_s)}});
}

namespace {

// At the right of an exercise's button: the best mark of whoever is at the bench, with a tick if it was passed.
void draw_best(Ui& ui, const Session& session, const ShippedExercise& shipped) {
    const auto& all = session.logbook().progress();
    const auto progress = std::ranges::find(all, shipped.name, &record::ExerciseProgress::exercise);
    if (progress == all.end())
        return;
    const std::string best = units::number_text(progress->best, 1);
    const float sign = ImGui::GetTextLineHeight(), width = ImGui::CalcTextSize(best.c_str()).x + sign + ui.px(14);
    const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax(), after = ImGui::GetCursorScreenPos();
    ImGui::SetCursorScreenPos({high.x - width, (low.y + high.y - sign) / 2});
    verdict_sign(ui, progress->passed ? grading::Verdict::pass : grading::Verdict::caution);
    ImGui::SameLine(0, ui.px(4));
    ImGui::TextUnformatted(best.c_str());
    ImGui::SetCursorScreenPos(after);
}

} // namespace

void exercise_list(Ui& ui, const Session& session, Actions& out) {
    int level = 0;
    for (const ShippedExercise& shipped : session.exercises()) { // easy to hard
        if (shipped.level != level) {
            level = shipped.level;
            heading(ui, level == 1   ? worded("Level 1: one thing at a time")
                        : level == 2 ? worded("Level 2: a whole part")
                                     : worded("Level 3: under harder conditions"));
        }
        ImGui::PushID(shipped.file.c_str());
        const bool current = session.has_exercise() && session.exercise().name == shipped.name;
        if (current)
            ImGui::PushStyleColor(ImGuiCol_Border, ImGui::ColorConvertU32ToFloat4(ui.theme.accent));
        if (ImGui::Button(ui.tr(shipped.title), {ImGui::GetContentRegionAvail().x, 0}))
            out.push_back(act::Open{shipped.file});
        note(ui, shipped.name.c_str());
        draw_best(ui, session, shipped);
        if (current)
            ImGui::PopStyleColor();
        ImGui::PopID();
    }
}

void nothing_open(Ui& ui, const Session& session, Actions& out) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float width = std::min(ui.px(520), room.x);
    ImGui::SetCursorPos({ImGui::GetCursorPosX() + (room.x - width) / 2, ImGui::GetCursorPosY() + ui.px(40)});
    begin_sheet(ui, "open an exercise", {width, room.y - ui.px(80)});
    title(ui, ui.tr("Choose an exercise"));
    quiet_text(ui, ui.tr("From easy to hard. Each one is a part to weld, with its limits."));
    ImGui::Dummy({0, ui.px(6)});
    exercise_list(ui, session, out);
    end_sheet();
}

} // namespace holdtrue::app
