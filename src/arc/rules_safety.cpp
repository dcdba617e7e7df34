#include "arc/evaluators.h"

#include <array>

namespace holdtrue::arc {
namespace {

bool tig(const Facts& facts) { return facts.card.process == Process::tig_141; }

// The filter on hand against the least; where the shop names none, the finding tells which to wear.
Finding shade(const Rule& rule, const Facts& facts, const char* kind) {
    const double least = rule.at(facts.figures.arc.current_a).low;
    const std::string at = " at " + facts.say(facts.figures.arc.current_a, units::current);
    const std::string number = units::significant_text(least);
    if (facts.shop.helmet_shade > 0) {
        return judge_band(rule, facts,
                          {"The helmet's shade" + at, static_cast<double>(facts.shop.helmet_shade), least, std::nullopt,
                           "the arc harms the eyes", "", "wear shade " + number, ""});
    }
    Finding finding = judge_fact(rule, true, "not stated", "shade " + number,
                                 std::string(kind) + at + " is shade " + number + ".", "");
    finding.value = least;
    return finding;
}

std::optional<Finding> least_shade(const Rule& rule, const Facts& facts) {
    return tig(facts) ? std::optional<Finding>{} : shade(rule, facts, "The lightest filter allowed");
}

std::optional<Finding> least_shade_tig(const Rule& rule, const Facts& facts) {
    return tig(facts) ? shade(rule, facts, "The lightest filter allowed") : std::optional<Finding>{};
}

std::optional<Finding> comfort_shade(const Rule& rule, const Facts& facts) {
    return tig(facts) ? std::optional<Finding>{} : shade(rule, facts, "The filter that most find right");
}

std::optional<Finding> coating(const Rule& rule, const Facts& facts) {
    const bool a = facts.section.coated_a, b = facts.section.coated_b;
    if (!a && !b)
        return std::nullopt;
    const double least = rule.low_or_stop();
    const std::string strip =
        "take the coating off " + facts.say(least, units::length) + " each side, and use exhaust or a mask";
    if (facts.section.bared_m)
        return judge_band(rule, facts,
                          {"The width bared of coating", *facts.section.bared_m, least, std::nullopt,
                           "the fume makes ill, and the bead has pores", "",
                           Remedy(Adjustable::bared, least) + ", and use exhaust or a mask", ""});
    Finding finding = judge_fact(rule, false, a && b ? "both members coated" : "one member coated",
                                 "bare for " + facts.say(least, units::length),
                                 "Coated steel gives fume that makes ill, and pores in the bead.", strip);
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
