#include "app/benches/benches.h"
#include "app/benches/common.h"
#include "app/benches/hints.h"
#include "app/benches/order_tools.h"
#include "app/ui/keyboard_frame.h"

#include <imgui_internal.h>

#include <algorithm>
#include <array>
#include <utility>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

// As much of a text as the width takes, with dots where it is cut; whole characters only. What follows the last stroke
// stays, for it tells the passes of one joint apart.
std::string cut_to(const std::string& text, float width) {
    if (ImGui::CalcTextSize(text.c_str()).x <= width)
        return text;
    const std::size_t stroke = std::min(text.rfind('/'), text.size());
    const std::string end = "…" + text.substr(stroke);
    std::string cut = text.substr(0, stroke);
    do {
        while (!cut.empty() && (cut.back() & 0xC0) == 0x80)
            cut.pop_back();
        if (!cut.empty())
            cut.pop_back();
    } while (!cut.empty() && ImGui::CalcTextSize((cut + end).c_str()).x > width);
    return cut + end;
}

Colour kind_colour(const Ui& ui, const weld::Move& move) {
    return std::holds_alternative<weld::WeldPass>(move.what) ? ui.theme.accent : ui.theme.quiet;
}

// A row's own controls, on the right: reverse, remove. They are for the mouse: keys walk the rows, A and Delete do the
// same to the chosen one.
void row_controls(Ui& ui, const Session& session, int move, Actions& out) {
    const float size = ImGui::GetFrameHeight();
    ImGui::PushItemFlag(ImGuiItemFlags_NoNav, true);
    const bool has_direction = !session.why_not(act::ReverseMove{move});
    const float right = ImGui::GetWindowContentRegionMax().x;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {ui.px(4), ui.px(3)});
    if (has_direction) {
        ImGui::SameLine(right - 2 * size - ui.px(4));
        if (ImGui::Button("↔", {size, 0}))
            out.push_back(act::ReverseMove{move});
        note(ui, ("reverse " + std::to_string(move + 1)).c_str());
        pass_by(ui);
        tip(ui, ui.tr("Turn its direction round"));
    }
    ImGui::SameLine(right - size);
    if (ImGui::Button("×", {size, 0}))
        out.push_back(act::RemoveMove{move});
    note(ui, ("remove " + std::to_string(move + 1)).c_str());
    pass_by(ui);
    tip(ui, ui.tr("Take it out of the plan"));
    ImGui::PopStyleVar();
    ImGui::PopItemFlag();
}

void drag_row(const Session& session, OrderState& state, int move, Actions& out) {
    if (ImGui::BeginDragDropSource()) {
        state.dragged = move;
        ImGui::SetDragDropPayload("move", &move, sizeof move);
        ImGui::TextUnformatted(std::to_string(move + 1).c_str());
        ImGui::EndDragDropSource();
    }
    if (ImGui::BeginDragDropTarget()) {
        if (ImGui::AcceptDragDropPayload("move") && state.dragged >= 0 && state.dragged != move)
            out.push_back(act::ShiftMove{state.dragged, move});
        ImGui::EndDragDropTarget();
    }
    (void)session;
}

void draw_moves(Ui& ui, const Session& session, OrderState& state, Actions& out) {
    const weld::Plan& plan = session.plan();
    const weld::Outcome* preview = session.preview_is_current() ? session.preview().get() : nullptr;
    if (plan.moves.empty()) {
        quiet_text(ui, ui.tr("Click the passes on the part in the order you would weld them; click one again to turn "
                             "its direction round. Or lay out whole joints at the right."));
        quiet_text(ui, ui.tr("With keys: W chooses the next pass that can be welded, A adds it or turns it round."));
        return;
    }
    int framed = -1;
    Placed chosen_row;
    for (int m = 0; m < static_cast<int>(plan.moves.size()); ++m) {
        const weld::Move& move = plan.moves[Index(m)];
        ImGui::PushID(m);
        const auto problem = std::ranges::find(session.plan_problems(), m, &weld::PlanProblem::move);
        const bool wrong = problem != session.plan_problems().end();
        const float controls = 2 * ImGui::GetFrameHeight() + ui.px(8);
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float height = ImGui::GetFrameHeight();
        if (ImGui::Selectable("##row", session.view().move == m, ImGuiSelectableFlags_AllowItemOverlap,
                              {ImGui::GetContentRegionAvail().x - controls, height}))
            out.push_back(act::ChooseMove{m});
        note(ui, ("move " + std::to_string(m + 1)).c_str());
        if (m != std::max(session.view().move, 0))
            pass_by(ui);
        if (m == session.view().move) {
            chosen_row = ui.placed.back();
            if (state.in_sight != m || ImGui::IsWindowAppearing())
                ImGui::ScrollToBringRectIntoView(ImGui::GetCurrentWindow(), {chosen_row.low, chosen_row.high});
        }
        if (ImGui::IsItemFocused() && ImGui::GetIO().NavVisible)
            framed = m;
        if (wrong)
            tip(ui, problem_words(ui, problem->told));
        const weld::MoveOutcome* found =
            preview && Index(m) < preview->moves.size() ? &preview->moves[Index(m)] : nullptr;
        if (found && found->setup_change.any())
            tip(ui, setup_change_words(ui, *found));
        drag_row(session, state, m, out);

        ImDrawList& draw = *ImGui::GetWindowDrawList();
        const float text_y = at.y + (height - ImGui::GetTextLineHeight()) / 2;
        const std::string number = std::to_string(m + 1);
        const Colour ink = wrong ? ui.theme.bad : ui.theme.ink;
        draw.AddText(ui.fonts.bold, ui.fonts.bold->FontSize, {at.x + ui.px(4), text_y},
                     wrong ? ui.theme.bad : kind_colour(ui, move), number.c_str());
        std::string text = describe_move(ui, session.part(), plan, m);
        if (wrong)
            text = "! " + text;
        // What the preview found: when the move starts, and how warm the place is then.
        float end = at.x + ImGui::GetContentRegionAvail().x - controls - ui.px(6);
        if (found) {
            const std::string facts =
                units::clock_text(found->start_s) + (found->welded && !session.preview_is_rough()
                                                         ? "  " + units::temperature_text(found->interpass_k, ui.units)
                                                         : "");
            end -= ui.fonts.small->CalcTextSizeA(ui.fonts.small->FontSize, 1e9f, 0, facts.c_str()).x;
            draw.AddText(ui.fonts.small, ui.fonts.small->FontSize, {end, text_y + ui.px(1)}, ui.theme.quiet,
                         facts.c_str());
        }
        const std::string fits = cut_to(text, end - ui.px(6) - (at.x + ui.px(34)));
        draw.AddText({at.x + ui.px(34), text_y}, ink, fits.c_str());
        if (fits != text && !wrong)
            tip(ui, text);
        row_controls(ui, session, m, out);
        ImGui::PopID();
    }
    // The row in the keyboard's frame is the chosen one: either follows the other.
    if (framed >= 0 && framed != state.framed && framed != session.view().move)
        out.push_back(act::ChooseMove{framed});
    else if (framed >= 0 && framed == state.framed && chosen_row.item != 0 && framed != session.view().move) {
        put_frame(chosen_row);
        framed = session.view().move;
    }
    state.framed = framed;
    state.in_sight = session.view().move;
}

void draw_estimate(Ui& ui, const Session& session) {
    const TaskPasses passes = task_passes(session.exercise(), session.plan());
    label_value(ui, worded("Passes left"), std::to_string(passes.left) + " / " + std::to_string(passes.all));
    if (session.preview_is_current()) {
        const weld::Outcome& preview = *session.preview();
        double hottest_k = 0;
        for (const weld::MoveOutcome& move : preview.moves)
            if (move.welded)
                hottest_k = std::max(hottest_k, move.interpass_k);
        label_value(ui, worded("Time to the last move (estimate)"),
                    preview.moves.empty() ? "–" : units::duration_text(preview.moves.back().end_s));
        if (preview.setup_changes() > 0)
            label_value(
                ui, worded("Changes of dials, wire or gas"),
                ui.words({worded("{0}, taking {1}"),
                          {std::to_string(preview.setup_changes()), units::duration_text(preview.setup_change_s())}}));
        if (hottest_k > 0) {
            const double limit_k = session.exercise().heat.interpass_max_k;
            const std::string limit = " / " + units::temperature_text(limit_k, ui.units);
            if (session.preview_is_rough())
                label_value(ui, worded("Warmest start of a pass"), "…" + limit);
            else {
                verdict_sign(ui, hottest_k > limit_k ? grading::Verdict::fail : grading::Verdict::pass);
                ImGui::SameLine(0, ui.px(6));
                label_value(ui, worded("Warmest start of a pass"),
                            units::temperature_text(hottest_k, ui.units) + limit);
            }
        }
    } else if (!session.plan_problems().empty()) {
        const text::Problem& told = session.plan_problems().front().told;
        ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(ui.theme.bad));
        wrapped(ui, problem_words(ui, told));
        ImGui::PopStyleColor();
    } else
        label_value(ui, worded("Time to the last move (estimate)"), session.worker().busy() ? "…" : "–");
}

// What can be changed about the chosen move: the card of a weld, the length of a wait.
void draw_chosen_move(Ui& ui, const Session& session, Actions& out) {
    const int chosen = session.view().move, pass = session.view().pass;
    if (chosen < 0 && pass >= 0) { // the plan has no move of it yet
        const std::string& name = session.part().passes[Index(pass)].name;
        wrapped(ui, ui.words({worded("Chosen: {0}"), {name}}));
        note(ui, ("chosen " + name).c_str());
        if (const auto why = session.why_not(act::WeldNext{pass}))
            quiet_text(ui, ui.words(*why));
        else
            quiet_text(ui, ui.tr("A adds it to the plan."));
    }
    if (chosen < 0)
        return;
    const auto& what = session.plan().moves[Index(chosen)].what;
    if (const auto* wait = std::get_if<weld::Wait>(&what)) {
        double time_s = wait->time_s, below_k = wait->until_below_k.value_or(0);
        bool changed = false;
        if (time_s > 0)
            changed = quantity_field(ui, worded("Time"), time_s, units::time, 5, 3600, 15);
        if (below_k > 0)
            changed =
                quantity_field(ui, worded("Temperature"), below_k, units::temperature, 303.15, 673.15, 10) || changed;
        if (changed)
            out.push_back(act::SetWait{chosen, time_s, below_k});
        return;
    }
    const auto* weld = std::get_if<weld::WeldPass>(&what);
    if (!weld || session.plan().cards.size() < 2)
        return;
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(ui.words({worded("Move {0} with card"), {std::to_string(chosen + 1)}}).c_str());
    ImGui::SameLine();
    ImGui::SetNextItemWidth(-1);
    if (ImGui::BeginCombo("##card", ui.tr(session.plan().cards[Index(weld->card)].name))) {
        for (Index c = 0; c < session.plan().cards.size(); ++c)
            if (ImGui::Selectable(ui.tr(session.plan().cards[c].name), static_cast<int>(c) == weld->card))
                out.push_back(act::SetMoveCard{chosen, static_cast<int>(c)});
        ImGui::EndCombo();
    }
    note(ui, "card of the move");
}

} // namespace

void draw_order(Ui& ui, const Session& session, OrderState& state, Actions& out) {
    if (!session.has_exercise())
        return nothing_open(ui, session, out);
    if (std::exchange(state.exercise, session.exercise().name) != session.exercise().name) {
        state.joints.clear();
        state.below_px = 0;
    }
    const float height = ImGui::GetContentRegionAvail().y;
    // Left: the plan's moves.
    ImGui::BeginGroup();
    begin_sheet(ui, "plan", {ui.px(398), height}, false);
    heading(ui, worded("The plan, move by move"));
    // What comes and goes with the preview and the chosen move stands below what is pressed.
    action_button(ui, session, out, worded("Undo"), act::Undo{}, Weight::plain, "Ctrl+Z");
    ImGui::SameLine(0, ui.px(4));
    action_button(ui, session, out, worded("Redo"), act::Redo{}, Weight::plain, "Ctrl+Y");
    ImGui::SameLine(0, ui.px(4));
    action_button(ui, session, out, worded("Clear"), act::ClearMoves{});
    ImGui::SameLine(0, ui.px(4));
    draw_hints(ui, session, out);
    // What stands below the moves takes as much room as it ever took for this exercise: as it comes and goes, no row
    // moves under the pointer.
    const float below = std::min(ui.px(state.below_px), ImGui::GetContentRegionAvail().y / 2);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {ui.px(8), ui.px(2)});
    ImGui::BeginChild("moves", {0, -below - ui.px(2)});
    draw_moves(ui, session, state, out);
    ImGui::EndChild();
    ImGui::PopStyleVar();
    ImGui::BeginChild("below", {0, 0});
    draw_chosen_move(ui, session, out);
    draw_estimate(ui, session);
    state.below_px = std::max(state.below_px, ImGui::GetCursorPosY() / ui.px(1));
    ImGui::EndChild();
    end_sheet();
    ImGui::EndGroup();

    // Middle: the part. Right: tools.
    ImGui::SameLine(0, ui.px(10));
    const float tools = ui.px(256);
    PartViewWish wish;
    if (session.preview_is_current()) {
        wish.outcome = session.preview();
        wish.field = session.view().field == Field::temperature ? Field::peak : session.view().field;
        wish.caption =
            session.preview_is_rough() ? ui.tr("Quick preview on a coarse mesh") : ui.tr("Preview of the heat");
    }
    ImGui::BeginChild("view", {ImGui::GetContentRegionAvail().x - tools - ui.px(10), height}, false,
                      ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    const PartViewEvents events = draw_part_view(ui, session, state.view, wish, {0, 0}, out);
    ImGui::EndChild();
    if (events.clicked_pass >= 0)
        out.push_back(act::WeldNext{events.clicked_pass});
    ImGui::SameLine(0, ui.px(10));
    begin_sheet(ui, "tools", {tools, height}, false);
    begin_above_footer("scrolled");
    draw_order_tools(ui, session, state, out);
    end_sheet();
    // The prediction is made there first.
    if (button(ui, worded("On to the weld"), Weight::main, {}, "4"))
        out.push_back(act::ShowBench{Bench::weld});
    end_sheet();
}

} // namespace holdtrue::app
