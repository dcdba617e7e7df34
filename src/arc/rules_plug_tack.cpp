#include "arc/evaluators.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

bool plug(const Facts& facts) { return facts.is(part::JointType::plug); }

std::optional<Finding> least_hole(const Rule& rule, const Facts& facts) {
    if (!plug(facts))
        return std::nullopt;
    const double least = facts.section.thickness_a_m + *rule.base;
    return judge_band(rule, facts,
                      at_least(worded("The hole"), facts.section.size_m, least,
                               worded("the arc cannot reach the sheet below all round"),
                               Remedy(Adjustable::hole, least)));
}

std::optional<Finding> most_hole(const Rule& rule, const Facts& facts) {
    if (!plug(facts))
        return std::nullopt;
    const double t = facts.section.thickness_a_m;
    // The least hole counts as it is drilled: in even millimetres.
    const double least = std::ceil((t + *facts.other("plug.least_hole").base) / 2e-3 - 1e-9) * 2e-3;
    const double most = std::max(least + *rule.base, *rule.share * t);
    return judge_band(rule, facts,
                      at_most(worded("The hole"), facts.section.size_m, most,
                              worded("it takes much metal and heat to fill, and pulls a dish into the sheet"),
                              Remedy(Adjustable::hole, most)));
}

std::optional<Finding> spacing(const Rule& rule, const Facts& facts) {
    if (!plug(facts) || !facts.section.plug_spacing_m || facts.section.size_m <= 0)
        return std::nullopt;
    const double least = rule.low_or_stop();
    return judge_band(rule, facts,
                      at_least(worded("The distance between plug centres against the hole"),
                               *facts.section.plug_spacing_m / facts.section.size_m, least,
                               worded("the heat of one plug runs into the next"),
                               Remedy(Adjustable::plug_spacing, least * facts.section.size_m)));
}

std::optional<Finding> fill(const Rule& rule, const Facts& facts) {
    constexpr double full_depth_to_m = 16e-3;
    const double needed_s = facts.figures.arc.fill_s;
    if (!plug(facts) || facts.section.thickness_a_m > full_depth_to_m || needed_s <= 0)
        return std::nullopt;
    const double burned_s = facts.card.plug_s > 0 ? facts.card.plug_s : needed_s;
    const Remedy change(Adjustable::plug_time, needed_s);
    return judge_band(rule, facts,
                      {worded("The fill of the hole"), burned_s / needed_s, rule.low, rule.high,
                       worded("the hole is left half empty"), worded("metal piles up on the sheet and heats it"),
                       change, change});
}

std::optional<Finding> fill_depth_thick(const Rule& rule, const Facts& facts) {
    const double t = facts.section.thickness_a_m, needed_s = facts.figures.arc.fill_s;
    if (!plug(facts) || t <= *rule.base || needed_s <= 0)
        return std::nullopt;
    const double burned_s = facts.card.plug_s > 0 ? facts.card.plug_s : needed_s;
    const double least = std::max(*rule.base, *rule.share * t);
    return judge_band(rule, facts,
                      at_least(worded("The depth of metal in the hole"), std::min(1.0, burned_s / needed_s) * t, least,
                               worded("the plug carries less than counted on"),
                               Remedy(Adjustable::plug_time, needed_s * least / t)));
}

std::optional<Finding> sheet_thickness(const Rule& rule, const Facts& facts) {
    if (!plug(facts) || facts.figures.arc.state.transfer != Transfer::short_circuit)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The sheet with the hole"), facts.section.thickness_a_m, rule.high,
                              worded("a short-circuit arc at the bottom of so deep a hole stays cold"),
                              worded("open the hole to a slot and weld its edge as a fillet, or use spray")));
}

std::optional<Finding> tack_length(const Rule& rule, const Facts& facts) {
    if (!facts.section.tack_length_m)
        return std::nullopt;
    const double least = std::min(*rule.share * facts.section.thicker_m(), rule.high_or_stop());
    return judge_band(rule, facts,
                      at_least(worded("The length of a tack"), *facts.section.tack_length_m, least,
                               worded("it chills hard and may crack when the seam pulls"),
                               Remedy(Adjustable::tack_length, least)));
}

std::optional<Finding> tack_spacing(const Rule& rule, const Facts& facts) {
    if (!facts.section.tack_spacing_m)
        return std::nullopt;
    const RuleRow row = rule.at(facts.section.thinner_m());
    return judge_band(rule, facts,
                      {worded("The distance between tacks"), *facts.section.tack_spacing_m, row.low, row.high,
                       worded("more tacks than the joint needs, each one a place to weld over"),
                       worded("the joint opens or closes between them"), Remedy(Adjustable::tack_spacing, row.low),
                       Remedy(Adjustable::tack_spacing, row.high)});
}

} // namespace

std::span<const Evaluator> plug_and_tack_evaluators() {
    static constexpr std::array table{
        Evaluator{"plug.least_hole", least_hole},
        Evaluator{"plug.most_hole", most_hole},
        Evaluator{"plug.spacing", spacing},
        Evaluator{"plug.fill", fill},
        Evaluator{"plug.fill_depth_thick", fill_depth_thick},
        Evaluator{"plug.sheet_thickness", sheet_thickness},
        Evaluator{"tack.least_length", tack_length},
        Evaluator{"tack.spacing", tack_spacing},
    };
    return table;
}

} // namespace holdtrue::arc
