// Inside the rule book: evaluators by topic, and the words they share. Used by rule_book.cpp and rules_*.cpp only.
#pragma once

#include "arc/rule_book.h"

#include <span>

namespace holdtrue::arc {

using text::Sentence;
using text::worded;

struct Facts {
    const SettingCard& card;
    const Shop& shop;
    const Section& section;
    const SetupFigures& figures;
    units::System system;
    const RuleBook& book;
    bool wordless = false; // verdicts only: all words come out empty

    const Rule& other(std::string_view id) const; // a rule whose numbers this one builds on
    bool is(part::JointType type) const { return section.type == type; }
    bool fed_solid() const; // MAG or MIG with solid wire
    bool has_gas() const;
    bool has_leg() const; // fillet, lap, corner
    bool open_root() const { return has_open_root(section); }
    // Unequal enough to matter: thicker at least 1.5 times the thinner.
    bool unequal() const { return section.thicker_m() >= 1.5 * section.thinner_m(); }

    std::string say(double si, const units::Dimension& dimension) const {
        return wordless ? std::string() : units::quantity_text(si, dimension, system);
    }
    Remedy feed_for(double current_a) const; // the feed that gives a current; with TIG the current itself
};

// nullopt: the rule does not apply to these facts.
using Evaluate = std::optional<Finding> (*)(const Rule& rule, const Facts& facts);
struct Evaluator {
    std::string_view id;
    Evaluate evaluate;
};

// A value that should lie between two bounds, in the rule's unit (SI inside).
struct Band {
    Sentence what; // "The current"
    double value = 0;
    std::optional<double> low, high;
    Sentence if_low, if_high; // what comes of it
    Remedy raise, lower;      // what to change
};
inline Band at_least(Sentence what, double value, std::optional<double> low, Sentence if_low, Remedy raise) {
    return {std::move(what), value, low, {}, std::move(if_low), {}, std::move(raise), {}};
}
inline Band at_most(Sentence what, double value, std::optional<double> high, Sentence if_high, Remedy lower) {
    return {std::move(what), value, {}, high, {}, std::move(if_high), {}, std::move(lower)};
}
Finding judge_band(const Rule& rule, const Facts& facts, Band band);
// A yes or no.
Finding judge_fact(const Rule& rule, bool right, Sentence measured, Sentence limit, Sentence sentence, Remedy change);
// Settles what a finding asks for (rule by its place in the book): `change` becomes its words; where it is a setting,
// `advised` becomes settings with which the rule, judged anew, is met, and the words say which rules would then newly
// fail, or that no setting will do.
// `rather`: a setting to be taken if the rule is met with it.
void advise(const RuleBook& book, const Facts& facts, std::size_t rule, Finding& finding,
            const std::optional<Setting>& rather = {});
// Where several findings advise the same dial and the setting of one of them meets all their rules, all advise that
// one. `rules`: finding_count, each finding's rule by its place in the book.
void let_advice_agree(const RuleBook& book, const Facts& facts, const std::vector<std::size_t>& rules,
                      std::vector<Finding>& findings);

std::span<const Evaluator> current_evaluators();
std::span<const Evaluator> arc_evaluators();
std::span<const Evaluator> fillet_evaluators();
std::span<const Evaluator> plug_and_tack_evaluators();
std::span<const Evaluator> groove_evaluators();
std::span<const Evaluator> gas_evaluators();
std::span<const Evaluator> wire_evaluators();
std::span<const Evaluator> heat_evaluators();
std::span<const Evaluator> safety_evaluators();

} // namespace holdtrue::arc
