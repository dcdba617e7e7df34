#include "app/benches/benches.h"
#include "app/benches/common.h"
#include "app/benches/prediction.h"
#include "app/ui/plot.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

constexpr float player_height = 124;

std::string move_words(const Ui& ui, const Session& session, const weld::Plan& plan, int move) {
    if (move < 0 || move >= static_cast<int>(plan.moves.size()))
        return ui.tr("cooling down, then freed");
    return describe_move(ui, session.part(), plan, move);
}

void tell_predictions_left(Ui& ui, const Session& session) {
    if (const int left = session.predictions_left(); left > 0)
        quiet_text(ui, ui.words({worded("Gauges without a prediction: {0} of {1}. Each costs points; you can still say "
                                        "until the weld is simulated."),
                                 {std::to_string(left), std::to_string(session.part().gauges.size())}}));
}

void draw_start(Ui& ui, const Session& session, Actions& out) {
    const Worker& worker = session.worker();
    if (worker.busy_with_weld()) {
        heading(ui, worded("Simulating the weld"));
        share_bar(ui, worker.share(), ui.theme.accent, 10);
        const std::string share = units::number_text(100 * worker.share(), 0);
        const int move = worker.move() + 1, moves = static_cast<int>(session.plan().moves.size());
        const Sentence words = move > moves ? Sentence{worded("{0} % done, cooling down"), {share}}
                                            : Sentence{worded("{0} % done, move {1} of {2}"),
                                                       {share, std::to_string(move), std::to_string(moves)}};
        ImGui::TextUnformatted(ui.words(words).c_str());
        tell_predictions_left(ui, session);
        action_button(ui, session, out, worded("Cancel"), act::CancelWeld{}, Weight::plain, "Esc");
        return;
    }
    if (const int left = task_passes(session.exercise(), session.plan()).left; left > 0)
        quiet_text(ui,
                   ui.words({worded("Passes that are not in the plan yet: {0}. Without them the part is not passed."),
                             {std::to_string(left)}}));
    tell_predictions_left(ui, session);
    action_button(ui, session, out, worded("Weld the plan"), act::StartWeld{}, Weight::main, "Ctrl+Enter");
    if (const auto why = session.why_not(act::StartWeld{}))
        quiet_text(ui, ui.words(*why));
}

// A gauge's way from the start to now, inside its limits, over a scale; a ring where the earlier plan has it.
void draw_gauge_track(Ui& ui, const units::Unit& unit, double off, double tolerance, std::optional<double> earlier) {
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(16);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::PushFont(ui.fonts.small);
    ImGui::Dummy({width, height + ui.px(3) + ImGui::GetTextLineHeight()});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const double span = std::max({2.2 * tolerance, 1.1 * std::abs(off), 1.1 * std::abs(earlier.value_or(0))});
    const auto x_of = [&](double value) {
        return at.x + width * static_cast<float>(0.5 + 0.5 * std::clamp(value / span, -1.0, 1.0));
    };
    const float middle = at.y + height / 2;
    const bool inside = std::abs(off) <= tolerance;
    const Colour colour = inside ? ui.theme.good : ui.theme.bad;
    draw.AddLine({at.x, middle}, {at.x + width, middle}, ui.theme.line, ui.px(1));
    draw.AddRectFilled({x_of(-tolerance), at.y + ui.px(3)}, {x_of(tolerance), at.y + height - ui.px(3)},
                       ui.theme.accent_wash, ui.px(3));
    for (const double end : {-tolerance, tolerance})
        draw.AddLine({x_of(end), at.y + ui.px(1)}, {x_of(end), at.y + height - ui.px(1)}, ui.theme.quiet, ui.px(1.5f));
    draw.AddLine({x_of(0), middle}, {x_of(off), middle}, colour, ui.px(4));
    draw.AddCircleFilled({x_of(off), middle}, ui.px(5), colour);
    if (earlier)
        draw.AddCircle({x_of(*earlier), middle}, ui.px(6), ui.theme.ink, 24, ui.px(1.5f));
    const int most_marks = std::max(2, static_cast<int>(width / ui.px(70)));
    for (const Tick& mark : ticks_in(unit, -span, span, most_marks)) {
        const float wide = ImGui::CalcTextSize(mark.text.c_str()).x, x = x_of(mark.value);
        draw.AddLine({x, at.y + height}, {x, at.y + height + ui.px(3)}, ui.theme.quiet, ui.px(1));
        draw.AddText({std::clamp(x - wide / 2, at.x, at.x + width - wide), at.y + height + ui.px(3)}, ui.theme.quiet,
                     mark.text.c_str());
    }
    ImGui::PopFont();
}

void draw_gauges_now(Ui& ui, const Session& session, const weld::Outcome& outcome, const scene::Moment& moment,
                     Actions& out) {
    heading(ui, worded("Gauges now"));
    const part::Part& part = session.part();
    const weld::Outcome* earlier = session.view().compare && session.kept() ? session.kept()->outcome.get() : nullptr;
    for (Index g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        const auto off_in = [&](const weld::Outcome& of, const scene::Moment& then) {
            return scene::gauge_value(of, static_cast<int>(g), then) - of.gauges[g].nominal;
        };
        const double off = off_in(outcome, moment);
        std::optional<double> off_earlier;
        if (earlier)
            off_earlier = off_in(*earlier, scene::moment_at(*earlier, session.view().time_s));
        ImGui::PushID(static_cast<int>(g));
        ImGui::BeginGroup();
        verdict_sign(ui, std::abs(off) <= gauge.tolerance ? grading::Verdict::pass : grading::Verdict::fail);
        ImGui::SameLine(0, ui.px(6));
        label_value(ui, Sentence::of_file(gauge.title), part::gauge_error_text(gauge, off, ui.units));
        draw_gauge_track(ui, units::workshop_unit(part::dimension_of(gauge.kind), ui.units), off, gauge.tolerance,
                         off_earlier);
        ImGui::EndGroup();
        if (ImGui::IsItemClicked())
            out.push_back(act::ChooseGauge{session.view().gauge == static_cast<int>(g) ? -1 : static_cast<int>(g)});
        ImGui::PopID();
    }
    if (earlier)
        quiet_text(ui, ui.tr("The ring is the earlier plan's."));
    quiet_text(ui, ui.words({worded("Change from the drawing; the band is the limit. Model: {0}."),
                             {outcome.distortion_model}}));
}

void draw_readouts(Ui& ui, const Session& session, const weld::Outcome& outcome, const scene::Moment& moment,
                   const PartViewState& view) {
    title(ui, units::clock_text(session.view().time_s));
    ImGui::SameLine();
    ImGui::PushFont(ui.fonts.small);
    ImGui::TextDisabled("%s", ui.words({worded("of {0}"), {units::clock_text(outcome.total_s)}}).c_str());
    ImGui::PopFont();
    wrapped(ui, move_words(ui, session, outcome.plan, moment.move));
    ImGui::Dummy({0, ui.px(2)});
    // The interpass temperature that counts is that of the pass under way, or of the last one.
    int welded = std::min(moment.move, static_cast<int>(outcome.moves.size()) - 1);
    while (welded > 0 && !outcome.moves[Index(welded)].welded)
        --welded;
    if (welded >= 0 && outcome.moves[Index(welded)].welded) {
        const weld::MoveOutcome& move = outcome.moves[Index(welded)];
        if (welded != moment.move)
            quiet_text(ui, ui.words({worded("Last arc: {0}"), {move_words(ui, session, outcome.plan, welded)}}));
        if (move.setup_change.any())
            quiet_text(ui, setup_change_words(ui, move));
        label_value(ui, worded("Interpass at its start"), units::temperature_text(move.interpass_k, ui.units));
        label_value(ui, worded("Hottest while it burned"), units::temperature_text(move.peak_k, ui.units));
        label_value(ui, worded("Heat input"), units::heat_input_text(move.arc.heat_input_j_per_m, ui.units));
    }
    label_value(ui, worded("Under the pointer"),
                view.hovered_k ? units::temperature_text(*view.hovered_k, ui.units) : std::string("–"));
}

// Every move as a segment of the time line; the clock is dragged along it.
void draw_timeline(Ui& ui, const Session& session, const weld::Outcome& outcome, Actions& out) {
    const float width = ImGui::GetContentRegionAvail().x, height = ui.px(30);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::InvisibleButton("timeline", {width, height});
    note(ui, "timeline");
    pass_by(ui);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const double total_s = std::max(outcome.total_s, 1e-9);
    const auto x_of = [&](double time_s) { return at.x + width * static_cast<float>(time_s / total_s); };
    draw.AddRectFilled(at, {at.x + width, at.y + height}, ui.theme.raised, ui.px(4));
    for (Index m = 0; m < outcome.moves.size(); ++m) {
        const weld::MoveOutcome& move = outcome.moves[m];
        const bool chosen = static_cast<int>(m) == session.view().move;
        if (move.welded)
            draw.AddRectFilled({x_of(move.start_s), at.y + ui.px(6)},
                               {std::max(x_of(move.end_s), x_of(move.start_s) + 1), at.y + height - ui.px(6)},
                               chosen ? ui.theme.caution : ui.theme.accent);
        else if (chosen)
            draw.AddRectFilled({x_of(move.start_s), at.y + ui.px(10)}, {x_of(move.end_s), at.y + height - ui.px(10)},
                               ui.theme.caution);
    }
    draw.AddRect(at, {at.x + width, at.y + height}, ui.theme.line, ui.px(4));
    ImGui::PushFont(ui.fonts.small);
    const float line = ImGui::GetTextLineHeight();
    for (const double tick : ticks(0, outcome.total_s, std::max(2, static_cast<int>(width / ui.px(90))), true)) {
        const std::string text = units::clock_text(tick);
        const float wide = ImGui::CalcTextSize(text.c_str()).x, x = x_of(tick);
        draw.AddLine({x, at.y + height}, {x, at.y + height + ui.px(4)}, ui.theme.quiet, 1);
        draw.AddText({std::clamp(x - wide / 2, at.x, at.x + width - wide), at.y + height + ui.px(4)}, ui.theme.quiet,
                     text.c_str());
    }
    ImGui::PopFont();
    const float now = x_of(session.view().time_s);
    draw.AddLine({now, at.y - ui.px(3)}, {now, at.y + height + ui.px(3)}, ui.theme.ink, ui.px(2));
    draw.AddCircleFilled({now, at.y - ui.px(3)}, ui.px(5), ui.theme.ink);
    const ImGuiIO& io = ImGui::GetIO();
    const double pointed_s = total_s * double(std::clamp((io.MousePos.x - at.x) / width, 0.0f, 1.0f));
    if (ImGui::IsItemActive())
        out.push_back(act::SetTime{pointed_s});
    if (ImGui::IsItemHovered()) {
        const scene::Moment moment = scene::moment_at(outcome, pointed_s);
        ImGui::SetTooltip("%s  %s", units::clock_text(pointed_s).c_str(),
                          move_words(ui, session, outcome.plan, moment.move).c_str());
    }
    ImGui::Dummy({0, line});
}

void draw_player(Ui& ui, const Session& session, const weld::Outcome& outcome, Actions& out) {
    begin_sheet(ui, "player", {0, ui.px(player_height)}, false);
    draw_timeline(ui, session, outcome, out);
    if (session.view().playing)
        action_button(ui, session, out, worded("Pause"), act::Pause{}, Weight::main, "P");
    else
        action_button(ui, session, out, worded("Play"), act::Play{}, Weight::main, "P");
    ImGui::SameLine();
    action_button(ui, session, out, worded("Move back"), act::StepMove{-1}, Weight::plain, ",");
    ImGui::SameLine();
    action_button(ui, session, out, worded("Next move"), act::StepMove{1}, Weight::plain, ".");
    ImGui::SameLine(0, ui.px(20));
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(ui.tr("Speed"));
    constexpr double speeds[]{1, 10, 60, 300};
    for (const double speed : speeds) {
        ImGui::SameLine(0, ui.px(3));
        const std::string name = "×" + units::number_text(speed, 0);
        const bool chosen = session.view().speed == speed;
        if (chosen)
            ImGui::PushStyleColor(ImGuiCol_Border, ImGui::ColorConvertU32ToFloat4(ui.theme.accent));
        if (ImGui::Button(name.c_str()))
            out.push_back(act::SetSpeed{speed});
        note(ui, name.c_str());
        if (chosen)
            ImGui::PopStyleColor();
    }
    end_sheet();
}

PartViewWish playing_view(const Session& session, const Marked& marked) {
    PartViewWish wish;
    wish.outcome = marked.outcome;
    wish.time_s = session.view().time_s;
    wish.field = session.view().field;
    wish.deformed = session.view().deformed;
    wish.exaggeration = session.exaggeration();
    wish.laid_only = true;
    wish.torch = true;
    wish.gauges = session.view().gauge >= 0;
    return wish;
}

void draw_views(Ui& ui, const Session& session, WeldState& state, const Marked& marked, Actions& out) {
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float player = ui.px(player_height) + ImGui::GetStyle().ItemSpacing.y;
    PartViewWish wish = playing_view(session, marked);
    const bool compare = session.view().compare && session.kept();
    const ImVec2 size{compare ? (room.x - ui.px(8)) / 2 : room.x, room.y - player};
    if (compare)
        wish.caption = ui.tr("This plan");
    const PartViewEvents events = draw_part_view(ui, session, state.view, wish, size, out);
    if (events.clicked_place)
        out.push_back(act::Probe{*events.clicked_place});
    if (events.clicked_pass >= 0)
        out.push_back(act::ChoosePass{events.clicked_pass});
    if (!compare)
        return;
    ImGui::SameLine(0, ui.px(8));
    PartViewWish other = playing_view(session, *session.kept());
    other.exaggeration = wish.exaggeration;
    other.caption = ui.tr("Earlier plan");
    other.legend = false; // both have the same scale
    other.slot = 1;
    draw_part_view(ui, session, state.compared, other, size, out);
}

} // namespace

void draw_weld(Ui& ui, const Session& session, WeldState& state, Actions& out) {
    if (!session.has_exercise())
        return nothing_open(ui, session, out);
    const Marked* marked = session.marked_is_current() ? session.marked() : nullptr;
    begin_sheet(ui, "readouts", {ui.px(316), 0}, marked != nullptr);
    if (marked) {
        const scene::Moment moment = scene::moment_at(*marked->outcome, session.view().time_s);
        draw_readouts(ui, session, *marked->outcome, moment, state.view);
        ImGui::Dummy({0, ui.px(8)});
        draw_gauges_now(ui, session, *marked->outcome, moment, out);
        ImGui::Dummy({0, ui.px(6)});
        if (session.kept() && check(ui, worded("Beside the earlier plan"), session.view().compare))
            out.push_back(act::Toggle{act::Switch::compare});
        if (button(ui, worded("Inspect the part"), Weight::main, {}, "5"))
            out.push_back(act::ShowBench{Bench::inspect});
    } else {
        // Whatever there is to be predicted, the start and what is to be told before it are in sight.
        state.pointed_gauge = -1;
        ImGui::BeginChild("predictions", {0, -state.start_height - ImGui::GetStyle().ItemSpacing.y});
        draw_prediction(ui, session, state.pointed_gauge, out);
        ImGui::EndChild();
        ImGui::BeginGroup();
        draw_start(ui, session, out);
        ImGui::EndGroup();
        state.start_height = ImGui::GetItemRectSize().y;
    }
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    ImGui::BeginGroup();
    if (marked) {
        draw_views(ui, session, state, *marked, out);
        draw_player(ui, session, *marked->outcome, out);
    } else {
        PartViewWish wish;
        wish.gauges = true;
        wish.strong_gauge = state.pointed_gauge;
        wish.caption = ui.tr("As drawn, with the plan's order");
        const PartViewEvents events = draw_part_view(ui, session, state.view, wish, {0, 0}, out);
        if (events.clicked_gauge)
            out.push_back(act::ChooseGauge{*events.clicked_gauge});
    }
    ImGui::EndGroup();
}

} // namespace holdtrue::app
