#include "arc/evaluators.h"

#include <array>

namespace holdtrue::arc {
namespace {

using material::Metal;

const material::GasMixture& gas(const Facts& facts) { return facts.figures.setting.gas; }
Sentence gas_words(const Facts& facts) {
    return facts.has_gas() ? Sentence(material::in_words(gas(facts))) : worded("none");
}
bool flow_is_set(const Facts& facts) { return facts.card.gas_flow_m3_per_s > 0 && facts.has_gas(); }
bool mild_steel(const Facts& facts) { return facts.section.metal == Metal::mild_steel; }
bool self_shielded(const Facts& facts) { return facts.card.process == Process::fcaw_self_114; }

std::optional<Finding> needed(const Rule& rule, const Facts& facts) {
    if (self_shielded(facts))
        return std::nullopt;
    return judge_fact(rule, facts.has_gas(), gas_words(facts), worded("a gas"),
                      facts.has_gas() ? Sentence(worded("The arc is shielded by {0}."), {gas_words(facts)})
                                      : worded("Without gas the bead is full of pores."),
                      worded("choose a gas, or self-shielded wire and process 114"));
}

std::optional<Finding> not_for_self_shielded(const Rule& rule, const Facts& facts) {
    if (!self_shielded(facts))
        return std::nullopt;
    return judge_fact(rule, !facts.has_gas(), gas_words(facts), worded("none"),
                      facts.has_gas() ? worded("Self-shielded wire is not made for added gas.")
                                      : worded("The wire makes its own gas."),
                      worded("shut the gas off"));
}

// The share of one component, in percent, against the rule's bounds.
Finding share_band(const Rule& rule, const Facts& facts, Sentence what, double share, Sentence if_low, Sentence if_high,
                   const Sentence& change) {
    return judge_band(
        rule, facts,
        {std::move(what), 100 * share, rule.low, rule.high, std::move(if_low), std::move(if_high), change, change});
}

std::optional<Finding> inert_on_steel(const Rule& rule, const Facts& facts) {
    if (!mild_steel(facts) || !facts.has_gas() || facts.card.process == Process::tig_141 || self_shielded(facts))
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 and oxygen in the gas"), gas(facts).active(),
                      worded("the arc wanders and the bead stands up without wetting"), {},
                      worded("take a mixture such as 75Ar 25CO2 or 82Ar 18CO2"));
}

std::optional<Finding> aluminium(const Rule& rule, const Facts& facts) {
    if (facts.section.metal != Metal::aluminium || !facts.has_gas())
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 and oxygen in the gas"), gas(facts).active(), {},
                      worded("aluminium burns to oxide in it"), worded("take argon, or argon with helium"));
}

std::optional<Finding> stainless_co2(const Rule& rule, const Facts& facts) {
    if (facts.section.metal != Metal::stainless || !facts.has_gas() || !facts.fed_solid())
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 in the gas"), gas(facts).co2, {},
                      worded("the weld picks up carbon and will rust"), worded("take 98Ar 2CO2 or 98Ar 2O2"));
}

std::optional<Finding> flux_cored(const Rule& rule, const Facts& facts) {
    if (facts.card.process != Process::fcaw_gas_136 || !facts.has_gas())
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 in the gas"), gas(facts).co2,
                      worded("the slag is not made for so little CO2"), {},
                      worded("take CO2 or 80Ar 20CO2, as the wire's class says"));
}

std::optional<Finding> tig_inert(const Rule& rule, const Facts& facts) {
    if (facts.card.process != Process::tig_141 || !facts.has_gas())
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 and oxygen in the gas"), gas(facts).active(), {},
                      worded("the tungsten burns away"), worded("take argon"));
}

std::optional<Finding> mig_inert(const Rule& rule, const Facts& facts) {
    if (facts.card.process != Process::mig_131 || facts.section.metal == Metal::aluminium || !facts.has_gas())
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 and oxygen in the gas"), gas(facts).active(), {},
                      worded("with a gas that takes part the process is 135, and its rules hold"),
                      worded("call it process 135, or take argon"));
}

std::optional<Finding> oxygen_short_circuit(const Rule& rule, const Facts& facts) {
    if (!mild_steel(facts) || !facts.fed_solid() || !facts.has_gas() ||
        facts.figures.arc.state.transfer != Transfer::short_circuit)
        return std::nullopt;
    return share_band(rule, facts, worded("CO2 in the gas of a short-circuit arc"), gas(facts).co2,
                      worded("the arc is soft and wets poorly when it short-circuits"), {},
                      worded("take 82Ar 18CO2 or 75Ar 25CO2"));
}

std::optional<Finding> co2_on_thin_sheet(const Rule& rule, const Facts& facts) {
    constexpr double mostly = 0.5;
    if (!mild_steel(facts) || gas(facts).co2 <= mostly || !facts.fed_solid())
        return std::nullopt;
    return judge_band(rule, facts,
                      at_least(worded("The sheet under CO2"), facts.section.thinner_m(), rule.low,
                               worded("CO2 digs deep and spatters on sheet so thin"), worded("take 75Ar 25CO2")));
}

std::optional<Finding> known_group(const Rule& rule, const Facts& facts) {
    if (!facts.has_gas())
        return std::nullopt;
    const bool known = !facts.figures.gas_group.empty();
    return judge_fact(rule, known, known ? Sentence(facts.figures.gas_group) : gas_words(facts),
                      worded("a group of ISO 14175"),
                      known ? Sentence(worded("{0} is group {1}."), {gas_words(facts), facts.figures.gas_group})
                            : Sentence(worded("{0} is in no group that this program knows."), {gas_words(facts)}),
                      worded("check the mixture on the cylinder's label"));
}

// So little that the pool lies open to the air.
std::optional<Finding> no_cover(const Rule& rule, const Facts& facts) {
    if (!flow_is_set(facts))
        return std::nullopt;
    return judge_band(
        rule, facts,
        at_least(worded("The gas flow"), facts.card.gas_flow_m3_per_s, rule.low,
                 worded("the pool lies open to the air and the weld is full of pores"),
                 Remedy(Adjustable::gas_flow, facts.figures.setting.wire_diameter_m * 12e3 * units::litre_per_minute)));
}

std::optional<Finding> least_flow_tig(const Rule& rule, const Facts& facts) {
    if (!flow_is_set(facts) || facts.card.process != Process::tig_141)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_least(worded("The gas flow"), facts.card.gas_flow_m3_per_s, rule.low,
                               worded("air gets in and the tungsten burns away"),
                               Remedy(Adjustable::gas_flow, rule.low_or_stop())));
}

std::optional<Finding> least_flow(const Rule& rule, const Facts& facts) {
    if (!flow_is_set(facts) || facts.card.process == Process::tig_141)
        return std::nullopt;
    const double by_wire = *rule.share * facts.figures.setting.wire_diameter_m * 1e3 * units::litre_per_minute;
    const double least = std::max(rule.low_or_stop(), by_wire);
    return judge_band(rule, facts,
                      at_least(worded("The gas flow"), facts.card.gas_flow_m3_per_s, least,
                               worded("air gets in and leaves pores"), Remedy(Adjustable::gas_flow, least)));
}

std::optional<Finding> most_flow(const Rule& rule, const Facts& facts) {
    if (!flow_is_set(facts))
        return std::nullopt;
    return judge_band(
        rule, facts,
        at_most(worded("The gas flow"), facts.card.gas_flow_m3_per_s, rule.high,
                worded("it whirls at the nozzle and may draw air in, and gas is wasted"),
                Remedy(Adjustable::gas_flow, facts.figures.setting.wire_diameter_m * 12e3 * units::litre_per_minute)));
}

std::optional<Finding> draught(const Rule& rule, const Facts& facts, Sentence consequence) {
    if (self_shielded(facts) || facts.shop.draught_m_per_s <= 0)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The draught"), facts.shop.draught_m_per_s, rule.high, std::move(consequence),
                              worded("put up a screen, or use self-shielded wire")));
}

std::optional<Finding> draught_limit(const Rule& rule, const Facts& facts) {
    return draught(rule, facts, worded("it blows the gas away"));
}

std::optional<Finding> draught_trouble(const Rule& rule, const Facts& facts) {
    return draught(rule, facts, worded("it begins to blow the gas away, and pores appear"));
}

} // namespace

std::span<const Evaluator> gas_evaluators() {
    static constexpr std::array table{
        Evaluator{"gas.needed", needed},
        Evaluator{"gas.not_for_self_shielded", not_for_self_shielded},
        Evaluator{"gas.inert_on_steel", inert_on_steel},
        Evaluator{"gas.aluminium", aluminium},
        Evaluator{"gas.stainless_co2", stainless_co2},
        Evaluator{"gas.flux_cored", flux_cored},
        Evaluator{"gas.tig_inert", tig_inert},
        Evaluator{"gas.mig_inert", mig_inert},
        Evaluator{"gas.oxygen_short_circuit", oxygen_short_circuit},
        Evaluator{"gas.co2_on_thin_sheet", co2_on_thin_sheet},
        Evaluator{"gas.known_group", known_group},
        Evaluator{"gas.no_cover", no_cover},
        Evaluator{"gas.least_flow", least_flow},
        Evaluator{"gas.least_flow_tig", least_flow_tig},
        Evaluator{"gas.most_flow", most_flow},
        Evaluator{"gas.draught_limit", draught_limit},
        Evaluator{"gas.draught_trouble", draught_trouble},
    };
    return table;
}

} // namespace holdtrue::arc
