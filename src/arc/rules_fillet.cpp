#include "arc/bead.h"
#include "arc/evaluators.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

constexpr double thin_from_m = 3e-3; // below it the tables of structural steel do not reach

double bead_leg_m(const Facts& facts) { return facts.figures.arc.leg_m; }

// Travel speed at which one pass leaves this leg.
Remedy travel_for_leg(const Facts& facts, double leg_m) {
    return {Adjustable::travel, facts.figures.arc.deposit_m3_per_s / area_for_leg_m2(leg_m)};
}

std::optional<Finding> least_leg(const Rule& rule, const Facts& facts, double by_m) {
    const double least = std::min(rule.at(by_m).low, facts.section.thinner_m());
    return judge_band(rule, facts,
                      at_least(worded("The leg of one pass"), bead_leg_m(facts), least,
                               worded("so small a pass chills too fast on this thickness and may crack"),
                               travel_for_leg(facts, least)));
}

std::optional<Finding> least(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg() || facts.section.thinner_m() < thin_from_m || facts.section.kind == part::PassKind::tack)
        return std::nullopt;
    return least_leg(rule, facts, facts.section.thinner_m());
}

std::optional<Finding> least_by_thicker(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg() || !facts.unequal() || facts.section.thinner_m() < thin_from_m ||
        facts.section.kind == part::PassKind::tack)
        return std::nullopt;
    return least_leg(rule, facts, facts.section.thicker_m());
}

std::optional<Finding> most_along_edge(const Rule& rule, const Facts& facts) {
    const double edge_m = facts.section.thickness_a_m;
    if (!facts.is(part::JointType::lap) || facts.section.size_m <= 0 || edge_m < thin_from_m)
        return std::nullopt;
    const double most = edge_m < rule.high_or_stop() ? edge_m : edge_m - *rule.base;
    return judge_band(rule, facts,
                      at_most(worded("The leg asked along the edge"), facts.section.size_m, most,
                              worded("the edge melts away and the leg can no longer be measured"),
                              Remedy(Adjustable::leg_asked, most)));
}

std::optional<Finding> most_in_one_pass(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg())
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The leg of one pass"), bead_leg_m(facts), rule.high,
                              worded("so much metal sags before it sets"),
                              travel_for_leg(facts, rule.high_or_stop()).and_also(worded("weld more passes"))));
}

std::optional<Finding> leg_for_sheet(const Rule& rule, const Facts& facts) {
    constexpr double sheet_to_m = 4e-3;
    const double t = facts.section.thinner_m();
    if (!facts.has_leg() || t > sheet_to_m)
        return std::nullopt;
    const double most = *rule.base + *rule.share * t;
    return judge_band(rule, facts,
                      at_most(worded("The leg of one pass on this sheet"), bead_leg_m(facts), most,
                              worded("it brings more heat than the sheet can carry off"), travel_for_leg(facts, most)));
}

// Throat as asked and as all passes make it.
struct Throats {
    double asked, made;
};
std::optional<Throats> throats(const Facts& facts) {
    if (!facts.has_leg() || facts.section.size_m <= 0 || facts.section.kind == part::PassKind::tack)
        return std::nullopt;
    return Throats{facts.figures.wanted_leg_m / std::sqrt(2.0), facts.figures.total_leg_m / std::sqrt(2.0)};
}

// Travel at which the passes together leave the leg asked.
Remedy travel_as_asked(const Facts& facts) {
    return travel_for_leg(facts, facts.figures.wanted_leg_m / std::sqrt(static_cast<double>(facts.figures.passes)));
}

std::optional<Finding> short_throat(const Rule& rule, const Facts& facts) {
    const auto throat = throats(facts);
    if (!throat)
        return std::nullopt;
    const double least = throat->asked - std::min(*rule.base + *rule.share * throat->asked, rule.high_or_stop());
    return judge_band(rule, facts,
                      at_least(worded("The throat"), throat->made, least,
                               worded("the weld is weaker than the drawing counts on"), travel_as_asked(facts)));
}

std::optional<Finding> excess_throat(const Rule& rule, const Facts& facts) {
    const auto throat = throats(facts);
    if (!throat)
        return std::nullopt;
    const double most = throat->asked + std::min(*rule.base + *rule.share * throat->asked, rule.high_or_stop());
    return judge_band(rule, facts,
                      at_most(worded("The throat"), throat->made, most,
                              worded("heat and wire for nothing, and more pull"), travel_as_asked(facts)));
}

std::optional<Finding> overwelding(const Rule& rule, const Facts& facts) {
    const auto throat = throats(facts);
    if (!throat)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("Metal laid against metal asked"), std::pow(throat->made / throat->asked, 2),
                              rule.high, worded("it pulls the part in the same measure"), travel_as_asked(facts)));
}

std::optional<Finding> unequal_legs(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg())
        return std::nullopt;
    const double on_a = std::sqrt(2 * facts.card.aim), on_b = std::sqrt(2 * (1 - facts.card.aim));
    const double difference = bead_leg_m(facts) * std::abs(on_a - on_b);
    const double most = *rule.base + *rule.share * facts.figures.arc.throat_m;
    return judge_band(rule, facts,
                      at_most(worded("The difference of the two legs"), difference, most,
                              worded("one member gets little weld"), Remedy(Adjustable::aim, 0.5)));
}

std::optional<Finding> convexity(const Rule& rule, const Facts& facts) {
    const double width = facts.figures.arc.face_width_m;
    if (!facts.has_leg() || width <= 0)
        return std::nullopt;
    // A cap of parabolic section: area 2/3 width * height; a short arc piles the metal higher.
    const double cap_m2 = facts.figures.arc.deposit_area_m2 * convex_share / (1 + convex_share);
    const double piled = std::clamp(1 - 0.5 * facts.figures.arc.state.off_volts_v, 0.5, 4.0);
    const double most = std::min(*rule.base + *rule.share * width, rule.high_or_stop());
    return judge_band(rule, facts,
                      at_most(worded("The convexity"), 1.5 * cap_m2 / width * piled, most,
                              worded("a ropy bead with sharp toes, where cracks start"),
                              Remedy(Adjustable::volts, facts.figures.arc.state.usual_volts_v)));
}

std::optional<Finding> gap(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg() || facts.section.root_gap_m <= 0)
        return std::nullopt;
    const double throat =
        (facts.figures.wanted_leg_m > 0 ? facts.figures.wanted_leg_m : bead_leg_m(facts)) / std::sqrt(2.0);
    const double most = std::min(*rule.base + *rule.share * throat, rule.high_or_stop());
    return judge_band(rule, facts,
                      at_most(worded("The gap"), facts.section.root_gap_m, most,
                              worded("the weld spends its throat on the gap"), Remedy(Adjustable::gap, most)));
}

std::optional<Finding> gap_adds_to_leg(const Rule& rule, const Facts& facts) {
    const double gap_m = facts.section.root_gap_m;
    if (!facts.has_leg() || gap_m <= *rule.base || facts.section.thinner_m() < thin_from_m)
        return std::nullopt;
    if (gap_m > rule.high_or_stop())
        return judge_band(rule, facts,
                          at_most(worded("The gap"), gap_m, rule.high, worded("no fillet may bridge it"),
                                  worded("fit the parts anew")));
    return judge_band(rule, facts,
                      at_least(worded("The leg over this gap"), facts.figures.total_leg_m,
                               facts.figures.wanted_leg_m + gap_m, worded("the gap must be added to the leg"),
                               travel_for_leg(facts, facts.figures.wanted_leg_m + gap_m)));
}

std::optional<Finding> least_length(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg() || facts.section.length_m <= 0 || facts.section.kind != part::PassKind::run)
        return std::nullopt;
    const double least = std::max(*rule.share * facts.figures.total_leg_m, rule.low_or_stop());
    return judge_band(rule, facts,
                      at_least(worded("The length of the fillet"), facts.section.length_m, least,
                               worded("start and end craters take too large a share"),
                               Remedy(Adjustable::weld_length, least)));
}

std::optional<Finding> half_the_sheet(const Rule& rule, const Facts& facts) {
    const double t = facts.section.thinner_m();
    if (facts.is(part::JointType::butt) || facts.is(part::JointType::plug) || t > 4e-3 || facts.section.root_gap_m <= 0)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The gap against the sheet"), facts.section.root_gap_m / t, rule.high,
                              worded("the pool falls through"), Remedy(Adjustable::gap, rule.high_or_stop() * t)));
}

std::optional<Finding> unequal_aim(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg() || !facts.unequal())
        return std::nullopt;
    const bool a_thicker = facts.section.thickness_a_m > facts.section.thickness_b_m;
    const double on_thicker = a_thicker ? facts.card.aim : 1 - facts.card.aim;
    const auto to = [&](double share) { return Remedy(Adjustable::aim, a_thicker ? share : 1 - share); };
    return judge_band(rule, facts,
                      {worded("The share of the arc on the thicker member"), on_thicker, rule.low, rule.high,
                       worded("the thin member melts away before the thick one takes"),
                       worded("the thin member is left out"), to(rule.low_or_stop()), to(rule.high_or_stop())});
}

std::optional<Finding> equal_aim(const Rule& rule, const Facts& facts) {
    if (!facts.has_leg() || facts.unequal())
        return std::nullopt;
    return judge_band(rule, facts,
                      {worded("The share of the arc on the first member"), facts.card.aim, rule.low, rule.high,
                       worded("the first member gets too little"), worded("the second member gets too little"),
                       Remedy(Adjustable::aim, 0.5), Remedy(Adjustable::aim, 0.5)});
}

std::optional<Finding> ratio(const Rule& rule, const Facts& facts) {
    if (!facts.unequal() || std::max(facts.section.start_k, facts.card.preheat_k) > 323)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The ratio of the two thicknesses"),
                              facts.section.thicker_m() / facts.section.thinner_m(), rule.high,
                              worded("one setting hardly suits both"),
                              worded("warm the thicker member and weld a trial piece")));
}

} // namespace

std::span<const Evaluator> fillet_evaluators() {
    static constexpr std::array table{
        Evaluator{"fillet.least", least},
        Evaluator{"fillet.least_by_thicker", least_by_thicker},
        Evaluator{"fillet.most_along_edge", most_along_edge},
        Evaluator{"fillet.most_in_one_pass", most_in_one_pass},
        Evaluator{"fillet.leg_for_sheet", leg_for_sheet},
        Evaluator{"fillet.short_throat", short_throat},
        Evaluator{"fillet.excess_throat", excess_throat},
        Evaluator{"fillet.overwelding", overwelding},
        Evaluator{"fillet.unequal_legs", unequal_legs},
        Evaluator{"fillet.convexity", convexity},
        Evaluator{"fillet.gap", gap},
        Evaluator{"fillet.gap_adds_to_leg", gap_adds_to_leg},
        Evaluator{"fillet.least_length", least_length},
        Evaluator{"gap.half_the_sheet", half_the_sheet},
        Evaluator{"unequal.aim", unequal_aim},
        Evaluator{"equal.aim", equal_aim},
        Evaluator{"unequal.ratio", ratio},
    };
    return table;
}

} // namespace holdtrue::arc
