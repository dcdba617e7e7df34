#include "app/benches/among_orders.h"
#include "app/benches/benches.h"
#include "app/benches/common.h"
#include "app/benches/hints.h"
#include "app/session/format.h"
#include "app/ui/plot.h"
#include "grading/grade.h"
#include "part/gauge_text.h"
#include "text/true_minus.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace holdtrue::app {

namespace {

using Index = std::size_t;

void draw_mark(Ui& ui, const grading::Mark& mark) {
    ImGui::PushFont(ui.fonts.title);
    const std::string total = ui.words({worded("{0} of 100"), {units::number_text(mark.total, 1)}});
    ImGui::TextUnformatted(total.c_str());
    note(ui, total.c_str());
    ImGui::SameLine();
    ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(mark.passed ? ui.theme.good : ui.theme.bad));
    ImGui::TextUnformatted(ui.tr(mark.passed ? worded("passed") : worded("not passed")));
    ImGui::PopStyleColor();
    ImGui::PopFont();
    if (!mark.why_not.empty())
        wrapped(ui, ui.words(mark.why_not));
    for (Index k = 0; k < mark.reached.size(); ++k) {
        if (mark.possible[k] <= 0)
            continue;
        label_value(ui, grading::title_of(static_cast<grading::Aspect>(k)),
                    units::number_text(mark.reached[k], 1) + " / " + units::number_text(mark.possible[k], 0));
        share_bar(ui, mark.reached[k] / mark.possible[k], ui.theme.accent, 6);
    }
    if (mark.hint_points > 0)
        label_value(ui, grading::title_of(grading::Aspect::help), "−" + units::number_text(mark.hint_points, 1));
}

void draw_gauge_results(Ui& ui, const Session& session, const weld::Outcome& outcome, Actions& out) {
    heading(ui, worded("Gauges against their limits"));
    const part::Part& part = session.part();
    if (!ImGui::BeginTable("gauges", 4, ImGuiTableFlags_BordersInnerH))
        return;
    ImGui::TableSetupColumn("sign", ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn("name", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn("off", ImGuiTableColumnFlags_WidthFixed);
    ImGui::TableSetupColumn("limit", ImGuiTableColumnFlags_WidthFixed);
    for (Index g = 0; g < part.gauges.size(); ++g) {
        const part::Gauge& gauge = part.gauges[g];
        const weld::GaugeOutcome& found = outcome.gauges[g];
        const double off = found.value - found.nominal;
        ImGui::TableNextRow();
        ImGui::TableNextColumn();
        verdict_sign(ui, std::abs(off) <= gauge.tolerance ? grading::Verdict::pass : grading::Verdict::fail);
        ImGui::TableNextColumn();
        ImGui::PushID(static_cast<int>(g));
        const bool chosen = session.view().gauge == static_cast<int>(g);
        if (wrapped_row(ui, ui.tr(gauge.title), chosen))
            out.push_back(act::ChooseGauge{chosen ? -1 : static_cast<int>(g)});
        note(ui, gauge.name.c_str());
        ImGui::PopID();
        ImGui::TableNextColumn();
        ImGui::PushFont(ui.fonts.bold);
        ImGui::TextUnformatted(text::true_minus(part::gauge_error_text(gauge, off, ui.units)).c_str());
        ImGui::PopFont();
        ImGui::TableNextColumn();
        ImGui::TextDisabled("±%s", part::gauge_text(gauge, gauge.tolerance, ui.units).c_str());
    }
    ImGui::EndTable();
    if (!outcome.gauges.empty())
        quiet_text(ui, ui.words({worded("Model: {0}. Its own error: {1}."),
                                 {outcome.distortion_model, outcome.gauges.front().band_source}}));
}

// What single changes of the order would do is worked out on demand.
void compare_orders(const Session& session, Actions& out) {
    out.push_back(act::ShowChart{Chart::orders});
    if (!session.among_orders_busy() && !session.among_orders_is_current())
        out.push_back(act::CompareOrders{});
}

void draw_remark(Ui& ui, const Session& session, const grading::Mark& mark, int index, Actions& out) {
    const grading::Remark& remark = mark.remarks[Index(index)];
    ImGui::PushID(index);
    verdict_sign(ui, remark.verdict);
    ImGui::SameLine(0, ui.px(6));
    ImGui::BeginGroup();
    ImGui::PushFont(ui.fonts.bold);
    ImGui::PushTextWrapPos(ImGui::GetWindowContentRegionMax().x - ui.px(64));
    ImGui::TextUnformatted(ui.words(remark.chosen).c_str());
    ImGui::PopTextWrapPos();
    ImGui::PopFont();
    if (remark.points_lost > 0) {
        const std::string lost = "−" + units::number_text(remark.points_lost, 1);
        same_line_ending_at_right(ImGui::CalcTextSize(lost.c_str()).x);
        ImGui::TextUnformatted(lost.c_str());
    }
    if (remark.must_be_met) {
        ImGui::PushStyleColor(ImGuiCol_Text, ImGui::ColorConvertU32ToFloat4(ui.theme.bad));
        wrapped(ui, ui.tr("Without this it is not passed."));
        ImGui::PopStyleColor();
    }
    if (!remark.measured.empty())
        wrapped(ui, ui.words(remark.limit.empty()
                                 ? Sentence(worded("Found {0}."), {remark.measured})
                                 : Sentence(worded("Found {0}; limit {1}."), {remark.measured, remark.limit})));
    if (!remark.consequence.empty())
        wrapped(ui, ui.words(remark.consequence));
    if (!remark.try_this.empty())
        wrapped(ui, ui.words({worded("Try: {0}"), {grading::advice_in_list(mark, Index(index))}}));
    if (!remark.source.empty()) {
        ImGui::PushFont(ui.fonts.small);
        quiet_text(ui, ui.words(remark.source));
        ImGui::PopFont();
    }
    const std::optional<Bench> bench = bench_of(remark);
    const char* leads_to = bench == Bench::setup   ? worded("Show the card")
                           : bench == Bench::order ? worded("Show the move")
                                                   : worded("Show the gauge");
    if ((bench || remark.gauge >= 0) && button(ui, leads_to))
        out.push_back(act::FollowRemark{index});
    if (remark.aspect == grading::Aspect::gauges && remark.move >= 0) {
        constexpr text::Wording compare = worded("Compare with other orders");
        same_line_if_room(ui, ui.tr(compare));
        if (button(ui, compare, Weight::plain, session.why_not(act::CompareOrders{})))
            compare_orders(session, out);
    }
    ImGui::EndGroup();
    ImGui::Dummy({0, ui.px(4)});
    ImGui::PopID();
}

void draw_remarks(Ui& ui, const Session& session, const grading::Mark& mark, Actions& out) {
    heading(ui, worded("Remarks: first what must be met, then the gravest"));
    bool any = false;
    for (Index k = 0; k < mark.remarks.size(); ++k)
        if (mark.remarks[k].verdict != grading::Verdict::pass) {
            draw_remark(ui, session, mark, static_cast<int>(k), out);
            any = true;
        }
    if (!any)
        quiet_text(ui, ui.tr("Nothing to remark."));
}

void draw_history(Ui& ui, const Session& session, const weld::Outcome& outcome, Actions& out) {
    if (!session.view().probe) {
        quiet_text(ui, ui.tr("Click a place on the part to see how hot it got, and when. With keys: PageDown chooses a "
                             "pass, H shows the heat there."));
        return;
    }
    std::vector<PlotPoint> points;
    const ShownUnit degrees = shown(units::temperature, ui.units);
    for (const scene::HistoryPoint& point : scene::history(outcome, *session.view().probe))
        points.push_back({point.time_s, degrees.unit.from_si(point.kelvin)});
    Plot plot;
    plot.x_is_time = true;
    plot.x_text = [](double seconds) { return units::clock_text(seconds); };
    plot.y_text = [&](double value) { return units::number_text(value, 0) + " " + std::string(degrees.unit.label); };
    plot.marker_x = session.view().time_s;
    if (const auto clicked = draw_plot(ui, plot, points))
        out.push_back(act::SetTime{*clicked});
}

void draw_contributions(Ui& ui, const Session& session, const weld::Outcome& outcome, Actions& out) {
    const int chosen = session.view().gauge;
    if (chosen < 0) {
        quiet_text(ui, ui.tr("Choose a gauge to see what each move did to it."));
        return;
    }
    const part::Gauge& gauge = session.part().gauges[Index(chosen)];
    Bars bars;
    for (const weld::MoveOutcome& move : outcome.moves)
        bars.sizes.push_back(Index(chosen) < move.gauge_contribution.size() ? move.gauge_contribution[Index(chosen)]
                                                                            : 0);
    // Last what the part does while it gets cold and the clamps come off.
    const weld::GaugeOutcome& found = outcome.gauges[Index(chosen)];
    const int moves = static_cast<int>(outcome.moves.size());
    if (!found.after_move.empty())
        bars.sizes.push_back(found.value - found.after_move.back());
    bars.chosen = session.view().move;
    bars.unit = units::workshop_unit(part::dimension_of(gauge.kind), ui.units);
    bars.text = [&](int move) {
        return (move < moves ? std::to_string(move + 1) + "  " + describe_move(ui, session.part(), outcome.plan, move)
                             : std::string(ui.tr(worded("cooling after the last move, clamps off")))) +
               "  " + part::gauge_change_text(gauge, bars.sizes[Index(move)], ui.units);
    };
    bars.foot_title = ui.tr("move");
    bars.foot_low = 0.5; // each bar stands over its number
    bars.foot_high = static_cast<double>(bars.sizes.size()) + 0.5;
    if (const auto move = draw_bars(ui, bars); move && *move < moves)
        out.push_back(act::ChooseMove{*move});
}

void draw_charts(Ui& ui, const Session& session, const weld::Outcome& outcome, Actions& out) {
    begin_sheet(ui, "charts", {0, 0}, false);
    const Chart chart = session.view().chart;
    if (const auto chosen =
            choice(ui, "chart", {worded("Heat at a place"), worded("What each move did"), worded("Among other orders")},
                   static_cast<int>(chart)))
        out.push_back(act::ShowChart{static_cast<Chart>(*chosen)});
    if (chart == Chart::moves && session.view().gauge >= 0) {
        ImGui::SameLine(0, ui.px(12));
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted(ui.tr(session.part().gauges[Index(session.view().gauge)].title));
    }
    if (chart == Chart::moves)
        draw_contributions(ui, session, outcome, out);
    else if (chart == Chart::orders)
        draw_among_orders(ui, session, out);
    else
        draw_history(ui, session, outcome, out);
    end_sheet();
}

} // namespace

void draw_inspect(Ui& ui, const Session& session, InspectState& state, Actions& out) {
    if (!session.has_exercise())
        return nothing_open(ui, session, out);
    const Marked* marked = session.marked();
    const float height = ImGui::GetContentRegionAvail().y;
    begin_sheet(ui, "mark", {ui.px(420), height});
    if (marked && std::exchange(state.read, marked->outcome) != marked->outcome)
        ImGui::SetScrollY(0);
    if (!marked) {
        title(ui, ui.tr("Nothing to inspect yet"));
        quiet_text(ui, ui.tr("Weld the plan first."));
        if (button(ui, worded("On to the weld"), Weight::main, {}, "4")) // the predictions are made there first
            out.push_back(act::ShowBench{Bench::weld});
    } else {
        if (!session.marked_is_current())
            quiet_text(ui, ui.tr("The plan was changed since: this is the part welded before."));
        draw_mark(ui, marked->mark);
        ImGui::Dummy({0, ui.px(2)});
        action_button(ui, session, out, worded("Try again from here"), act::TryAgain{}, Weight::main);
        ImGui::SameLine();
        draw_hints(ui, session, out);
        ImGui::Dummy({0, ui.px(6)});
        draw_gauge_results(ui, session, *marked->outcome, out);
        ImGui::Dummy({0, ui.px(6)});
        draw_remarks(ui, session, marked->mark, out);
    }
    end_sheet();
    ImGui::SameLine(0, ui.px(10));
    ImGui::BeginGroup();
    PartViewWish wish;
    if (marked) {
        wish.outcome = marked->outcome;
        wish.time_s = marked->outcome->total_s;
        wish.field = session.view().field == Field::temperature ? Field::peak : session.view().field;
        wish.deformed = session.view().deformed;
        wish.exaggeration = session.exaggeration();
    }
    wish.gauges = true;
    wish.numbers = false;
    const float charts = marked ? ui.px(230) : 0;
    const PartViewEvents events =
        draw_part_view(ui, session, state.view, wish, {0, height - charts - (marked ? ui.px(10) : 0)}, out);
    if (events.clicked_place && marked)
        out.push_back(act::Probe{*events.clicked_place});
    if (events.clicked_pass >= 0)
        out.push_back(act::ChoosePass{events.clicked_pass});
    if (events.clicked_gauge)
        out.push_back(act::ChooseGauge{*events.clicked_gauge});
    if (marked)
        draw_charts(ui, session, *marked->outcome, out);
    ImGui::EndGroup();
}

} // namespace holdtrue::app
