#include "grading/grade.h"

#include "grading/aspects.h"
#include "part/gauge_text.h"

#include <algorithm>
#include <cmath>
#include <ranges>
#include <tuple>

namespace holdtrue::grading {
namespace {

int gravity(Verdict verdict) { return verdict == Verdict::fail ? 0 : verdict == Verdict::caution ? 1 : 2; }

// Its place among the remarks. Of what must be met the gauges come last: tacks, heat and settings move them.
auto standing(const Remark& remark) {
    return std::tuple(!remark.must_be_met, remark.must_be_met && remark.aspect == Aspect::gauges,
                      gravity(remark.verdict), -remark.points_lost);
}

Remark incomplete_remark(const Completeness& completeness, Aspect aspect, double points_lost) {
    Remark remark;
    remark.aspect = aspect;
    remark.verdict = Verdict::fail;
    remark.topic = worded("work left out");
    remark.chosen = worded("the plan leaves work out");
    remark.measured =
        Sentence(worded("{0} % of the weld length is there"), {units::number_text(100 * completeness.share, 0)});
    remark.limit = worded("all that the exercise asks for");
    remark.source = worded("exercise");
    const std::size_t shown = std::min<std::size_t>(4, completeness.missing.size());
    const Sentence list =
        text::all_of({completeness.missing.begin(), completeness.missing.begin() + std::ptrdiff_t(shown)});
    remark.consequence =
        worded("the part is not finished: it cannot carry its load, and what was not welded cannot pull");
    remark.try_this = shown < completeness.missing.size()
                          ? Sentence(worded("Add to the plan: {0} and {1} more"),
                                     {list, std::to_string(completeness.missing.size() - shown)})
                          : Sentence(worded("Add to the plan: {0}"), {list});
    remark.points_lost = points_lost;
    remark.must_be_met = true;
    return remark;
}

// Rules of the exercise's book that are left out of the mark.
Remark unjudged_remark(const std::vector<arc::Rule>& unjudged) {
    constexpr std::size_t named = 4;
    std::vector<std::string> ids;
    for (const arc::Rule& rule : unjudged | std::views::take(named))
        ids.push_back(rule.id);
    Remark remark;
    remark.verdict = Verdict::caution;
    remark.topic = worded("rules that this program cannot judge");
    remark.chosen = unjudged.size() > named ? Sentence(worded("rules of the exercise: {0} and {1} more"),
                                                       {text::all_of(ids), std::to_string(unjudged.size() - named)})
                                            : Sentence(worded("rules of the exercise: {0}"), {text::all_of(ids)});
    remark.measured = worded("this program cannot judge them");
    remark.limit = worded("each rule judged");
    remark.source = worded("exercise");
    remark.consequence = worded("the mark leaves them out; another version of the program may mark otherwise");
    remark.try_this = worded("Use the program that the exercise came with, or a newer one");
    return remark;
}

// All that stands in the way of passing, whatever the points.
Sentence missed_must_pass(const Marking& marking, const std::set<std::string>& failed_rules) {
    const Exercise& exercise = marking.exercise;
    Sentence missed;
    const auto add = [&](Sentence more) {
        missed = missed.empty() ? std::move(more) : Sentence(worded("{0}; {1}"), {missed, std::move(more)});
    };
    for (const std::string& item : exercise.must_pass) {
        if (item == must_be_tacked)
            if (const auto loose = loose_joints(marking); !loose.empty())
                add({worded("'{0}' must be tacked before its first run"),
                     {marking.part().joints[static_cast<std::size_t>(loose.front().joint)].name}});
        if (item == must_stay_cool && hottest_start_k(marking) > exercise.heat.interpass_max_k)
            add({worded("no place may be hotter than {0} when a pass starts"),
                 {units::temperature_text(exercise.heat.interpass_max_k, marking.system)}});
        for (std::size_t g = 0; g < marking.part().gauges.size(); ++g) {
            const part::Gauge& gauge = marking.part().gauges[g];
            const weld::GaugeOutcome& found = marking.outcome.gauges[g];
            if (gauge.name == item && std::abs(found.value - found.nominal) > gauge.tolerance)
                add({worded("gauge '{0}' must be within its limit"), {Sentence::of_file(gauge.title)}});
        }
    }
    for (const std::string& id : failed_rules)
        if (rule_must_be_met(exercise, id))
            add({worded("this must be met: '{0}'"), {rule_words(exercise, id)}});
    return missed;
}

} // namespace

text::Wording title_of(Aspect aspect) {
    switch (aspect) {
    case Aspect::settings:
        return worded("Settings");
    case Aspect::order_and_heat:
        return worded("Order and heat");
    case Aspect::gauges:
        return worded("Gauges");
    case Aspect::prediction:
        return worded("Prediction");
    case Aspect::time_and_handling:
        return worded("Time and handling");
    case Aspect::help:
        break;
    }
    return worded("Hints taken");
}

Sentence advice_in_list(const Mark& mark, std::size_t remark) {
    const Remark& told = mark.remarks[remark];
    const auto end = mark.remarks.begin() + static_cast<std::ptrdiff_t>(remark);
    const bool before =
        told.card >= 0 && std::any_of(mark.remarks.begin(), end, [&](const Remark& earlier) {
            return earlier.verdict != Verdict::pass && earlier.card == told.card && earlier.try_this == told.try_this;
        });
    return before && !told.try_this.empty() ? Sentence(worded("the same change of the card as above")) : told.try_this;
}

double cost_of_hints(const Exercise& exercise, int taken) {
    double cost = 0;
    for (std::size_t k = 0; k < exercise.hints.size() && k < static_cast<std::size_t>(std::max(0, taken)); ++k)
        cost += exercise.hints[k].cost;
    return cost;
}

Mark grade(const Exercise& exercise, const weld::Outcome& outcome, units::System system, Advice advice) {
    const Marking marking{exercise, outcome, system, advice};
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
        help.topic = worded("hints");
        help.chosen = worded("hints taken");
        help.measured =
            Sentence(worded("{0} of {1}"), {std::to_string(outcome.plan.hints), std::to_string(exercise.hints.size())});
        help.source = worded("exercise");
        help.consequence = worded("each hint costs points of the mark");
        help.try_this = worded("Find the next step without one, then weld the exercise again from a fresh plan");
        help.points_lost = mark.hint_points;
        mark.remarks.push_back(std::move(help));
    }
    if (!exercise.rules->unjudged().empty())
        mark.remarks.push_back(unjudged_remark(exercise.rules->unjudged()));
    std::ranges::stable_sort(mark.remarks, [](const Remark& p, const Remark& q) { return standing(p) < standing(q); });

    if (outcome.status == weld::Status::cancelled)
        mark.why_not = worded("the simulation was stopped before the part was finished");
    else if (completeness.share < 1)
        mark.why_not = Sentence(worded("the part is not finished: {0} is not welded"), {completeness.missing.front()});
    else
        mark.why_not = missed_must_pass(marking, failed_rules);
    if (mark.why_not.empty() && mark.total < exercise.pass_mark)
        mark.why_not = Sentence(worded("{0} points are below the pass mark of {1}"),
                                {units::number_text(mark.total, 1), units::number_text(exercise.pass_mark, 0)});
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
