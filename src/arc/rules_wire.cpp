#include "arc/evaluators.h"

#include <array>

namespace holdtrue::arc {
namespace {

using material::Metal;
using material::WireForm;

bool tig(const Facts& facts) { return facts.card.process == Process::tig_141; }

text::Wording metal_words(Metal metal) {
    switch (metal) {
    case Metal::mild_steel:
        return worded("mild steel");
    case Metal::stainless:
        return worded("stainless");
    case Metal::aluminium:
        break;
    }
    return worded("aluminium");
}

std::optional<Finding> for_thickness(const Rule& rule, const Facts& facts) {
    if (!facts.fed_solid() || facts.section.metal != Metal::mild_steel)
        return std::nullopt;
    const RuleRow row = rule.at(facts.figures.setting.wire_diameter_m);
    return judge_band(rule, facts,
                      {Sentence(worded("The governing thickness for {0} wire"),
                                {facts.say(facts.figures.setting.wire_diameter_m, units::length)}),
                       facts.figures.governing_thickness_m, row.low, row.high, worded("this wire is too thick for it"),
                       worded("this wire is too thin for it"), worded("take a thinner wire"),
                       worded("take a thicker wire")});
}

std::optional<Finding> for_process(const Rule& rule, const Facts& facts) {
    if (tig(facts))
        return std::nullopt;
    const WireForm form = facts.figures.setting.wire.form;
    bool right = false;
    switch (facts.card.process) {
    case Process::fcaw_gas_136:
        right = form == WireForm::flux_gas_shielded;
        break;
    case Process::fcaw_self_114:
        right = form == WireForm::flux_self_shielded;
        break;
    default:
        right = form == WireForm::solid || form == WireForm::metal_cored;
    }
    return judge_fact(
        rule, right, facts.figures.setting.wire.meaning, worded("a wire of this process"),
        {right ? worded("The wire fits the process: {0}.") : worded("The wire does not fit the process: {0}."),
         {facts.figures.setting.wire.meaning}},
        worded("choose the process that the wire is made for, or another wire"));
}

std::optional<Finding> for_metal(const Rule& rule, const Facts& facts) {
    const Metal wire = facts.figures.setting.wire.metal, base = facts.section.metal;
    return judge_fact(rule, wire == base, metal_words(wire), metal_words(base),
                      wire == base ? Sentence(worded("Wire and members are {0}."), {metal_words(base)})
                                   : Sentence(worded("The wire is {0}, the members are {1}."),
                                              {metal_words(wire), metal_words(base)}),
                      Sentence(worded("take a wire of {0}"), {metal_words(base)}));
}

std::optional<Finding> class_thickness(const Rule& rule, const Facts& facts) {
    const double limit_m = facts.figures.setting.wire.thickness_max_m;
    if (limit_m <= 0)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The thicker member for this class of wire"), facts.section.thicker_m(),
                              rule.at(limit_m).high, worded("its deposit may crack on thicker steel"),
                              worded("take a wire of a class without that limit")));
}

std::optional<Finding> single_pass_only(const Rule& rule, const Facts& facts) {
    if (!facts.figures.setting.wire.single_pass_only)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The number of passes"), static_cast<double>(facts.figures.passes), rule.high,
                              worded("a second pass over this wire cracks"),
                              worded("take an E71T-11 wire, or a smaller leg")));
}

std::optional<Finding> thinnest_for_aluminium(const Rule& rule, const Facts& facts) {
    if (facts.section.metal != Metal::aluminium || !facts.fed_solid())
        return std::nullopt;
    return judge_band(rule, facts,
                      at_least(worded("The aluminium wire"), facts.figures.setting.wire_diameter_m, rule.low,
                               worded("it buckles in the feeder"), worded("take 1.0 or 1.2 mm wire")));
}

Finding polarity(const Rule& rule, const Facts& facts, bool negative,
                 Sentence if_wrong = worded("little depth, much spatter")) {
    const bool right = (facts.card.polarity == Polarity::electrode_negative) == negative;
    const auto words = [](bool of_electrode) {
        return of_electrode ? worded("electrode negative") : worded("electrode positive");
    };
    const Sentence wanted = words(negative), set = words(right == negative);
    return judge_fact(rule, right, set, wanted,
                      right ? Sentence(worded("The polarity is right: {0}."), {wanted})
                            : Sentence(worded("The polarity is {0}: {1}."), {set, std::move(if_wrong)}),
                      Sentence(worded("change the leads to {0}"), {wanted}));
}

std::optional<Finding> electrode_positive(const Rule& rule, const Facts& facts) {
    if (tig(facts) || facts.figures.setting.wire.form == WireForm::flux_self_shielded)
        return std::nullopt;
    return polarity(rule, facts, false);
}

std::optional<Finding> polarity_self_shielded(const Rule& rule, const Facts& facts) {
    if (facts.figures.setting.wire.form != WireForm::flux_self_shielded)
        return std::nullopt;
    return polarity(rule, facts, facts.figures.setting.wire.electrode_negative);
}

std::optional<Finding> polarity_tig(const Rule& rule, const Facts& facts) {
    if (!tig(facts) || facts.section.metal == Metal::aluminium)
        return std::nullopt;
    return polarity(rule, facts, true, worded("the tungsten takes most of the heat and melts"));
}

} // namespace

std::span<const Evaluator> wire_evaluators() {
    static constexpr std::array table{
        Evaluator{"wire.for_thickness", for_thickness},
        Evaluator{"wire.for_process", for_process},
        Evaluator{"wire.for_metal", for_metal},
        Evaluator{"wire.class_thickness", class_thickness},
        Evaluator{"wire.single_pass_only", single_pass_only},
        Evaluator{"wire.thinnest_for_aluminium", thinnest_for_aluminium},
        Evaluator{"polarity.electrode_positive", electrode_positive},
        Evaluator{"polarity.self_shielded", polarity_self_shielded},
        Evaluator{"polarity.tig", polarity_tig},
    };
    return table;
}

} // namespace holdtrue::arc
