#include "grading/grade.h"

#include "grading/aspects.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::grading {
namespace {

int gravity(Verdict verdict) { return verdict == Verdict::fail ? 0 : verdict == Verdict::caution ? 1 : 2; }

Remark incomplete_remark(const Completeness& completeness, Aspect aspect, double points_lost) {
    Remark remark;
    remark.aspect = aspect;
    remark.verdict = Verdict::fail;
    remark.topic = "work left out";
    remark.chosen = "the plan leaves work out";
    remark.measured = units::number_text(100 * completeness.share, 0) + " % of the weld length is there";
    remark.limit = "all that the exercise asks for";
    remark.source = "exercise";
    std::string list;
    const std::size_t shown = std::min<std::size_t>(4, completeness.missing.size());
    for (std::size_t k = 0; k < shown; ++k)
        list += (k ? ", " : "") + completeness.missing[k];
    if (shown < completeness.missing.size())
        list += " and " + std::to_string(completeness.missing.size() - shown) + " more";
    remark.consequence = "the part is not finished: it cannot carry its load, and what was not welded cannot pull";
    remark.try_this = "Add to the plan: " + list;
    remark.points_lost = points_lost;
    return remark;
}

std::string missed_must_pass(const Marking& marking, const std::set<std::string>& failed_rules) {
    const Exercise& exercise = marking.exercise;
    for (const std::string& item : exercise.must_pass) {
        if (item == must_be_tacked)
            if (const auto loose = loose_joints(marking); !loose.empty())
                return "'" + marking.part().joints[static_cast<std::size_t>(loose.front().joint)].name +
                       "' must be tacked before its first run";
        if (item == must_stay_cool && hottest_start_k(marking) > exercise.heat.interpass_max_k)
            return "no place may be hotter than " +
                   units::temperature_text(exercise.heat.interpass_max_k, marking.system) + " when a pass starts";
        if (failed_rules.contains(item))
            return "rule '" + item + "' must be met";
        for (std::size_t g = 0; g < marking.part().gauges.size(); ++g) {
            const part::Gauge& gauge = marking.part().gauges[g];
            const weld::GaugeOutcome& found = marking.outcome.gauges[g];
            if (gauge.name == item && std::abs(found.value - found.nominal) > gauge.tolerance)
                return "gauge '" + gauge.title + "' must be within its limit";
        }
    }
    return {};
}

} // namespace

std::string_view title_of(Aspect aspect) {
    switch (aspect) {
    case Aspect::settings:
        return "Settings";
    case Aspect::order_and_heat:
        return "Order and heat";
    case Aspect::gauges:
        return "Gauges";
    case Aspect::prediction:
        return "Prediction";
    case Aspect::time_and_handling:
        return "Time and handling";
    case Aspect::help:
        return "Hints taken";
    }
    return {};
}

double cost_of_hints(const Exercise& exercise, int taken) {
    double cost = 0;
    for (std::size_t k = 0; k < exercise.hints.size() && k < static_cast<std::size_t>(std::max(0, taken)); ++k)
        cost += exercise.hints[k].cost;
    return cost;
}

Mark grade(const Exercise& exercise, const weld::Outcome& outcome, units::System system) {
    const Marking marking{exercise, outcome, system};
    std::set<std::string> failed_rules;
    std::array<AspectMark, aspect_count> aspects;
    aspects[0] = mark_settings(marking, failed_rules);
    aspects[1] = mark_order_and_heat(marking);
    aspects[2] = mark_gauges(marking);
    aspects[3] = mark_prediction(marking);
    aspects[4] = mark_time_and_handling(marking, {aspects[0].credit, aspects[1].credit, aspects[2].credit});
    const Completeness completeness = find_completeness(marking);

    Mark mark;
    const Weights& weights = exercise.weights;
    mark.possible = {weights.settings, weights.order_and_heat, weights.gauges, weights.prediction,
                     weights.time_and_handling};
    for (std::size_t a = 0; a < aspect_count; ++a) {
        const double worth = mark.possible[a] * completeness.share;
        mark.reached[a] = worth * aspects[a].credit;
        mark.total += mark.reached[a];
        for (Remark& remark : aspects[a].remarks) {
            remark.aspect = static_cast<Aspect>(a);
            remark.points_lost *= worth;
            mark.remarks.push_back(std::move(remark));
        }
        const double left_out = mark.possible[a] - worth;
        if (left_out > 0)
            mark.remarks.push_back(incomplete_remark(completeness, static_cast<Aspect>(a), left_out));
    }
    if (outcome.plan.hints > 0) {
        mark.hint_points = std::min(mark.total, cost_of_hints(exercise, outcome.plan.hints));
        mark.total -= mark.hint_points;
        Remark help;
        help.aspect = Aspect::help;
        help.verdict = Verdict::caution;
        help.topic = "hints";
        help.chosen = "hints taken";
        help.measured = std::to_string(outcome.plan.hints) + " of " + std::to_string(exercise.hints.size());
        help.source = "exercise";
        help.consequence = "each hint costs points of the mark";
        help.try_this = "Find the next step without one, then weld the exercise again from a fresh plan";
        help.points_lost = mark.hint_points;
        mark.remarks.push_back(std::move(help));
    }
    std::ranges::stable_sort(mark.remarks, [](const Remark& p, const Remark& q) {
        return gravity(p.verdict) != gravity(q.verdict) ? gravity(p.verdict) < gravity(q.verdict)
                                                        : p.points_lost > q.points_lost;
    });

    if (outcome.status == weld::Status::cancelled)
        mark.why_not = "the simulation was stopped before the part was finished";
    else if (completeness.share < 1)
        mark.why_not = "the part is not finished: " + completeness.missing.front() + " is not welded";
    else
        mark.why_not = missed_must_pass(marking, failed_rules);
    if (mark.why_not.empty() && mark.total < exercise.pass_mark)
        mark.why_not = units::number_text(mark.total, 1) + " points are below the pass mark of " +
                       units::number_text(exercise.pass_mark, 0);
    mark.passed = mark.why_not.empty();
    return mark;
}

OrderPoints order_points(const Exercise& exercise, const weld::Outcome& outcome) {
    const Marking marking{exercise, outcome, units::System::metric};
    const Weights& weights = exercise.weights;
    const double heat = mark_order_and_heat(marking).credit, gauges = mark_gauges(marking).credit;
    return {weights.order_and_heat * heat + weights.gauges * gauges +
                weights.time_and_handling * mark_time_and_handling(marking, {1, heat, gauges}).credit,
            weights.order_and_heat + weights.gauges + weights.time_and_handling};
}

} // namespace holdtrue::grading
