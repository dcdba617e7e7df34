#include "arc/evaluators.h"

#include <array>

namespace holdtrue::arc {
namespace {

bool tig(const Facts& facts) { return facts.card.process == Process::tig_141; }

// The filter on hand against the least; where the shop names none, the finding tells which to wear.
Finding shade(const Rule& rule, const Facts& facts, text::Wording advised) {
    const double least = rule.at(facts.figures.arc.current_a).low;
    const std::string current = facts.say(facts.figures.arc.current_a, units::current);
    const std::string number = units::significant_text(least);
    if (facts.shop.helmet_shade > 0) {
        return judge_band(rule, facts,
                          at_least(Sentence(worded("The helmet's shade at {0}"), {current}),
                                   static_cast<double>(facts.shop.helmet_shade), least,
                                   worded("the arc harms the eyes"), Sentence(worded("wear shade {0}"), {number})));
    }
    Finding finding =
        judge_fact(rule, true, worded("not stated"), {worded("shade {0}"), {number}}, {advised, {current, number}}, {});
    finding.value = least;
    return finding;
}

std::optional<Finding> least_shade(const Rule& rule, const Facts& facts) {
    return tig(facts) ? std::optional<Finding>{}
                      : shade(rule, facts, worded("The lightest filter allowed at {0} is shade {1}."));
}

std::optional<Finding> least_shade_tig(const Rule& rule, const Facts& facts) {
    return tig(facts) ? shade(rule, facts, worded("The lightest filter allowed at {0} is shade {1}."))
                      : std::optional<Finding>{};
}

std::optional<Finding> comfort_shade(const Rule& rule, const Facts& facts) {
    return tig(facts) ? std::optional<Finding>{}
                      : shade(rule, facts, worded("The filter that most find right at {0} is shade {1}."));
}

std::optional<Finding> coating(const Rule& rule, const Facts& facts) {
    const bool a = facts.section.coated_a, b = facts.section.coated_b;
    if (!a && !b)
        return std::nullopt;
    const double least = rule.low_or_stop();
    const std::string width = facts.say(least, units::length);
    if (facts.section.bared_m)
        return judge_band(rule, facts,
                          at_least(worded("The width bared of coating"), *facts.section.bared_m, least,
                                   worded("the fume makes ill, and the bead has pores"),
                                   Remedy(Adjustable::bared, least).and_also(worded("use exhaust or a mask"))));
    Finding finding = judge_fact(
        rule, false, a && b ? worded("both members coated") : worded("one member coated"),
        {worded("bare for {0}"), {width}}, worded("Coated steel gives fume that makes ill, and pores in the bead."),
        Sentence(worded("take the coating off {0} each side, and use exhaust or a mask"), {width}));
    finding.verdict = Verdict::caution; // until it is known how far it is bared
    return finding;
}

} // namespace

std::span<const Evaluator> safety_evaluators() {
    static constexpr std::array table{
        Evaluator{"eye.least_shade", least_shade},
        Evaluator{"eye.least_shade_tig", least_shade_tig},
        Evaluator{"eye.comfort_shade", comfort_shade},
        Evaluator{"coating.removed", coating},
    };
    return table;
}

} // namespace holdtrue::arc
