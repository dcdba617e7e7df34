// The chart of the inspect bench that shows where the plan stands among random orders.
#include "app/benches/among_orders.h"

#include "app/session/format.h"
#include "app/ui/plot.h"
#include "order/exercise_problem.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

namespace {

using Kind = order::SingleChange::Kind;

// Of a share of the random orders: none of them, some, all.
text::Wording of_share(double share, text::Wording none, text::Wording some, text::Wording all) {
    return share <= 0 ? none : share >= 1 ? all : some;
}

std::string change_text(Ui& ui, const part::Part& part, const AmongOrders& among, const order::SingleChange& change) {
    const auto& passes = among.plan.order.passes;
    const auto name = [&](int place) {
        return part.passes[static_cast<std::size_t>(passes[static_cast<std::size_t>(place)].pass)].name;
    };
    switch (change.kind) {
    case Kind::swap:
        return ui.words({worded("Let {0} and {1} change places"), {name(change.from), name(change.to)}});
    case Kind::move:
        return change.to > change.from
                   ? ui.words({worded("Weld {0} after {1}"), {name(change.from), name(change.to)}})
                   : ui.words({worded("Weld {0} before {1}"), {name(change.from), name(change.to)}});
    case Kind::reverse:
        return ui.words({worded("Run {0} the other way"), {name(change.from)}});
    case Kind::wait:
        return ui.words(
            {worded("Wait {0} before {1}"),
             {units::duration_text(among.waits_s[static_cast<std::size_t>(change.to)]), name(change.from)}});
    case Kind::no_wait:
        return ui.words({worded("Do not wait before {0}"), {name(change.from)}});
    case Kind::free_clamps:
        return change.to < static_cast<int>(passes.size())
                   ? ui.words({worded("Take the clamps off before {0}"), {name(change.to)}})
                   : ui.tr(worded("Take the clamps off at the end"));
    }
    return {};
}

// How many random orders lose how many points; the plan's bar is the chosen one.
void draw_histogram(Ui& ui, const AmongOrders& among) {
    constexpr int bars = 24;
    const double own = among.plan.finding.points_lost;
    double least = own, most = own;
    for (const order::Candidate& candidate : among.sample) {
        least = std::min(least, candidate.finding.points_lost);
        most = std::max(most, candidate.finding.points_lost);
    }
    const double step = std::max(1e-9, (most - least) / bars);
    const auto bar_of = [&](double points) {
        return std::clamp(static_cast<int>((points - least) / step), 0, bars - 1);
    };
    Bars chart;
    chart.sizes.assign(bars, 0);
    for (const order::Candidate& candidate : among.sample)
        chart.sizes[static_cast<std::size_t>(bar_of(candidate.finding.points_lost))] += 1;
    chart.chosen = bar_of(own);
    chart.chosen_title = ui.words({worded("your plan: {0}"), {units::number_text(own, 1)}});
    chart.size_title = ui.tr("random orders");
    chart.counts = true;
    chart.text = [&](int bar) {
        return ui.words({worded("{0} orders lose {1} to {2} points"),
                         {units::number_text(chart.sizes[static_cast<std::size_t>(bar)], 0),
                          units::number_text(least + bar * step, 1), units::number_text(least + (bar + 1) * step, 1)}});
    };
    chart.foot_title = ui.tr("points lost for order, heat, gauges and time");
    chart.foot_low = least;
    chart.foot_high = least + bars * step;
    draw_bars(ui, chart);
}

} // namespace

void draw_among_orders(Ui& ui, const Session& session, Actions& out) {
    if (session.among_orders_busy()) {
        share_bar(ui, session.among_orders_share(), ui.theme.accent, 10);
        action_button(ui, session, out, worded("Stop comparing"), act::StopComparing{});
        return;
    }
    const AmongOrders* among = session.among_orders();
    if (!among) {
        quiet_text(ui, ui.tr("Rehearses your passes in 200 random orders, and 200 single changes. It takes a minute."));
        action_button(ui, session, out, worded("Compare with other orders"), act::CompareOrders{}, Weight::main);
        return;
    }
    if (!among->failure.empty()) {
        quiet_text(ui, ui.words(among->failure));
        return;
    }
    if (!session.among_orders_is_current())
        quiet_text(ui, ui.tr(worded("The plan was changed since: this is about the plan before.")));
    const float width = ImGui::GetContentRegionAvail().x;
    ImGui::BeginChild("standing", {0.5f * width - ui.px(8), 0});
    ImGui::PushFont(ui.fonts.bold);
    const double beaten = among->standing.points_beat;
    wrapped(ui,
            ui.words({of_share(beaten, worded("Order, heat, gauges and time: no better than any of {1} random orders"),
                               worded("Order, heat, gauges and time: better than {0} of {1} random orders"),
                               worded("Order, heat, gauges and time: better than all {1} random orders")),
                      {order::share_text(beaten), std::to_string(among->sample.size())}}));
    ImGui::PopFont();
    quiet_text(ui, ui.tr("By quick rehearsals, which differ from a full weld by a point or so."));
    const auto share_of_limit = [&](const order::Finding& finding) {
        return order::share_text(order::worst_share(session.part(), finding));
    };
    for (const order::SingleChange& change : among->changes)
        wrapped(ui, ui.words({worded("{0}: {1} points lost instead of {2}, worst gauge at {3} of its limit instead of "
                                     "{4}"),
                              {change_text(ui, session.part(), *among, change),
                               units::number_text(change.after.finding.points_lost, 1),
                               units::number_text(among->plan.finding.points_lost, 1),
                               share_of_limit(change.after.finding), share_of_limit(among->plan.finding)}}));
    if (among->changes.empty())
        quiet_text(ui, ui.tr(worded("No single change that was tried helps.")));
    for (std::size_t g = 0; g < among->standing.gauge_beats.size(); ++g)
        quiet_text(ui, ui.words({of_share(among->standing.gauge_beats[g],
                                          worded("{0}: no nearer to the drawing than any of them"),
                                          worded("{0}: nearer to the drawing than {1} of them"),
                                          worded("{0}: nearer to the drawing than all of them")),
                                 {Sentence::of_file(session.part().gauges[g].title),
                                  order::share_text(among->standing.gauge_beats[g])}}));
    ImGui::EndChild();
    ImGui::SameLine(0, ui.px(16));
    ImGui::BeginChild("histogram", {0, 0});
    draw_histogram(ui, *among);
    ImGui::EndChild();
}

} // namespace holdtrue::app
