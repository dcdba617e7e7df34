// Inside the rule book: evaluators by topic, and the words they share. Used by rule_book.cpp and rules_*.cpp only.
#pragma once

#include "arc/rule_book.h"

#include <span>

namespace holdtrue::arc {

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
    // Unequal enough to matter: thicker at least 1.5 times the thinner.
    bool unequal() const { return section.thicker_m() >= 1.5 * section.thinner_m(); }

    std::string say(double si, const units::Dimension& dimension) const {
        return wordless ? std::string() : units::quantity_text(si, dimension, system);
    }
    // "raise the wire feed by 1.2 to 7.6 m/min", for a current wanted.
    std::string feed_for(double current_a) const;
    std::string volts_to(double volts_v) const;
    std::string travel_to(double travel_m_per_s) const;
};

// nullopt: the rule does not apply to these facts.
using Evaluate = std::optional<Finding> (*)(const Rule& rule, const Facts& facts);
struct Evaluator {
    std::string_view id;
    Evaluate evaluate;
};

// A value that should lie between two bounds, in the rule's unit (SI inside).
struct Band {
    std::string what; // "The current"
    double value = 0;
    std::optional<double> low, high;
    std::string if_low, if_high; // what comes of it
    std::string raise, lower;    // what to change
};
Finding judge_band(const Rule& rule, const Facts& facts, Band band);
// A yes or no.
Finding judge_fact(const Rule& rule, bool right, std::string measured, std::string limit, std::string sentence,
                   std::string change);

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
