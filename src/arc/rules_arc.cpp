#include "arc/evaluators.h"
#include "arc/melting_rate.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

bool fed(const Facts& facts) { return facts.card.process != Process::tig_141; }
bool tubular(const Facts& facts) {
    return facts.card.process == Process::fcaw_gas_136 || facts.card.process == Process::fcaw_self_114;
}
Transfer transfer(const Facts& facts) { return facts.figures.arc.state.transfer; }

// Both volts rules: the same offset against a narrow and a wide band.
std::optional<Finding> volts_off(const Rule& rule, const Facts& facts, Sentence if_low, Sentence if_high) {
    if (!fed(facts))
        return std::nullopt;
    const ArcState& state = facts.figures.arc.state;
    const double low = state.usual_volts_v + rule.low_or_stop(), high = state.usual_volts_v + rule.high_or_stop();
    return judge_band(rule, facts,
                      {worded("The voltage"), facts.card.volts_v, low, high, std::move(if_low), std::move(if_high),
                       Remedy(Adjustable::volts, state.usual_volts_v), Remedy(Adjustable::volts, state.usual_volts_v)});
}

std::optional<Finding> usual_line(const Rule& rule, const Facts& facts) {
    return volts_off(rule, facts, worded("a short, harsh arc that leaves a ropy bead"),
                     worded("a long, soft arc that spatters and undercuts"));
}

std::optional<Finding> arc_holds(const Rule& rule, const Facts& facts) {
    return volts_off(rule, facts, worded("the wire stubs into the pool and jumps"),
                     worded("the arc burns back towards the tip and spatters"));
}

std::optional<Finding> load_line(const Rule& rule, const Facts& facts) {
    const double most = facts.figures.load_volts_v + rule.high_or_stop();
    return judge_band(rule, facts,
                      at_most(worded("The voltage against the load line"), facts.card.volts_v, most,
                              worded("the source may not reach it at this current"), Remedy(Adjustable::volts, most)));
}

std::optional<Finding> globular_gap(const Rule& rule, const Facts& facts) {
    if (!facts.fed_solid())
        return std::nullopt;
    const bool globular = transfer(facts) == Transfer::globular;
    const auto& spray = facts.figures.arc.state.spray_from_a;
    return judge_fact(rule, !globular, facts.say(facts.card.volts_v, units::voltage),
                      {worded("below {0} for short-circuit, above {1} for spray"),
                       {facts.say(rule.low_or_stop(), units::voltage), facts.say(rule.high_or_stop(), units::voltage)}},
                      globular ? worded("Metal crosses in large drops that spatter: too many volts to short-circuit, "
                                        "no spray.")
                               : Sentence(worded("The transfer is {0}, clear of the spattering range between."),
                                          {in_words(transfer(facts))}),
                      Remedy(Adjustable::volts, rule.low_or_stop())
                          .or_else(spray ? Sentence(worded("weld in spray: from {0} and {1} on"),
                                                    {facts.say(*spray, units::current),
                                                     facts.say(rule.high_or_stop(), units::voltage)})
                                         : worded("take a gas with at most 20 % CO2 and spray")));
}

bool spray_volts(const Facts& facts) {
    return facts.fed_solid() && facts.card.volts_v >= 24 && facts.section.metal == material::Metal::mild_steel;
}

std::optional<Finding> spray_gas(const Rule& rule, const Facts& facts) {
    if (!spray_volts(facts) ||
        facts.figures.arc.current_a < facts.other("current.wire_spray").at(facts.figures.setting.wire_diameter_m).low)
        return std::nullopt;
    constexpr double pure = 0.95; // CO2 alone is run so on plate, for all its spatter
    const double co2 = facts.figures.setting.gas.co2;
    Finding finding = judge_band(
        rule, facts,
        at_most(worded("CO2 in the gas at spray volts and current"), 100 * co2, rule.high,
                worded("the arc drops and spatters instead of spraying"),
                Sentence(worded("take a gas with at most {0} % CO2"), {units::significant_text(rule.high_or_stop())})));
    if (co2 > pure && finding.verdict == Verdict::fail)
        finding.verdict = Verdict::caution;
    return finding;
}

std::optional<Finding> spray_current(const Rule& rule, const Facts& facts) {
    const auto& from = facts.figures.arc.state.spray_from_a;
    if (!facts.fed_solid() || facts.card.volts_v < 24 || !from)
        return std::nullopt;
    const double least = *rule.share * *from;
    return judge_band(rule, facts,
                      at_least(worded("The current at spray volts"), facts.figures.arc.current_a, least,
                               worded("the wire drops instead of spraying"), facts.feed_for(least)));
}

std::optional<Finding> spray_thickness(const Rule& rule, const Facts& facts) {
    if (transfer(facts) != Transfer::spray || facts.section.metal == material::Metal::aluminium)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_least(worded("The governing thickness under a spray arc"), facts.figures.governing_thickness_m,
                               rule.at(facts.figures.setting.wire_diameter_m).low, worded("spray is too hot for it"),
                               Remedy(Adjustable::volts, 22)));
}

std::optional<Finding> short_circuit_rate(const Rule& rule, const Facts& facts) {
    if (facts.figures.arc.state.shorts_per_s <= 0)
        return std::nullopt;
    const Remedy usual(Adjustable::volts, facts.figures.arc.state.usual_volts_v);
    return judge_band(rule, facts,
                      {worded("The estimated rate of short circuits"), facts.figures.arc.state.shorts_per_s, rule.low,
                       rule.high, worded("large slow drops, a popping arc"), worded("the wire stutters in the pool"),
                       usual, usual});
}

std::optional<Finding> short_circuit_thickness(const Rule& rule, const Facts& facts) {
    constexpr double warm_k = 373.15;
    if (transfer(facts) != Transfer::short_circuit || !facts.fed_solid() ||
        facts.section.metal == material::Metal::aluminium || facts.open_root() ||
        std::max(facts.section.start_k, facts.card.preheat_k) >= warm_k)
        return std::nullopt;
    // Between unequal members the governing thickness counts: the thin one keeps the pool hot.
    return judge_band(rule, facts,
                      at_most(worded("The governing thickness under a short-circuit arc"),
                              facts.figures.governing_thickness_m, rule.high,
                              worded("it may lie cold on the thick steel"),
                              Sentence(worded("take a thicker wire and spray, or preheat to {0}"),
                                       {facts.say(warm_k, units::temperature)})));
}

std::optional<Finding> tip_band(const Rule& rule, const Facts& facts) {
    return judge_band(rule, facts,
                      {worded("The distance from contact tip to work"), facts.card.tip_distance_m, rule.low, rule.high,
                       worded("the tip overheats and spatter fills the nozzle"),
                       worded("the current falls and the gas thins out"),
                       Remedy(Adjustable::tip_distance, rule.low_or_stop()),
                       Remedy(Adjustable::tip_distance, rule.high.value_or(0))});
}

std::optional<Finding> tip_short_circuit(const Rule& rule, const Facts& facts) {
    if (!facts.fed_solid() || transfer(facts) != Transfer::short_circuit)
        return std::nullopt;
    return tip_band(rule, facts);
}

std::optional<Finding> tip_spray(const Rule& rule, const Facts& facts) {
    if (!facts.fed_solid() || transfer(facts) == Transfer::short_circuit)
        return std::nullopt;
    return tip_band(rule, facts);
}

std::optional<Finding> tip_flux_cored_gas(const Rule& rule, const Facts& facts) {
    return facts.card.process == Process::fcaw_gas_136 ? tip_band(rule, facts) : std::optional<Finding>{};
}

std::optional<Finding> tip_flux_cored_self(const Rule& rule, const Facts& facts) {
    return facts.card.process == Process::fcaw_self_114 ? tip_band(rule, facts) : std::optional<Finding>{};
}

std::optional<Finding> tip_least(const Rule& rule, const Facts& facts) {
    return fed(facts) ? tip_band(rule, facts) : std::optional<Finding>{};
}

Finding travel(const Rule& rule, const Facts& facts) {
    return judge_band(rule, facts,
                      {worded("The travel speed"), facts.card.travel_m_per_s, rule.low, rule.high,
                       worded("the pool rolls ahead of the arc and does not fuse"),
                       worded("no hand keeps the bead even"), Remedy(Adjustable::travel, rule.low_or_stop()),
                       Remedy(Adjustable::travel, rule.high_or_stop())});
}

std::optional<Finding> travel_by_hand(const Rule& rule, const Facts& facts) {
    return fed(facts) && !facts.is(part::JointType::plug) ? travel(rule, facts) : std::optional<Finding>{};
}

std::optional<Finding> travel_tig(const Rule& rule, const Facts& facts) {
    return !fed(facts) && !facts.is(part::JointType::plug) ? travel(rule, facts) : std::optional<Finding>{};
}

std::optional<Finding> drag_with_slag(const Rule& rule, const Facts& facts) {
    if (!tubular(facts))
        return std::nullopt;
    const bool drags = facts.card.motion == TorchMotion::drag;
    return judge_fact(rule, drags, drags ? worded("drag") : worded("push"), worded("drag"),
                      drags ? worded("The torch is dragged, so slag stays behind the pool.")
                            : worded("The torch is pushed: slag runs under the bead and stays in it."),
                      worded("drag the torch"));
}

std::optional<Finding> push_on_sheet(const Rule& rule, const Facts& facts) {
    if (!facts.fed_solid() || facts.section.thinner_m() > rule.low_or_stop())
        return std::nullopt;
    const bool pushes = facts.card.motion == TorchMotion::push;
    return judge_fact(rule, pushes, pushes ? worded("push") : worded("drag"), worded("push"),
                      pushes ? worded("The torch is pushed, which spares thin sheet.")
                             : worded("The torch is dragged: deeper than thin sheet likes."),
                      worded("push the torch"));
}

} // namespace

std::span<const Evaluator> arc_evaluators() {
    static constexpr std::array table{
        Evaluator{"volts.usual_line", usual_line},
        Evaluator{"volts.arc_holds", arc_holds},
        Evaluator{"volts.load_line", load_line},
        Evaluator{"transfer.globular_gap", globular_gap},
        Evaluator{"transfer.spray_gas", spray_gas},
        Evaluator{"transfer.spray_current", spray_current},
        Evaluator{"transfer.spray_thickness", spray_thickness},
        Evaluator{"transfer.short_circuit_rate", short_circuit_rate},
        Evaluator{"transfer.short_circuit_thickness", short_circuit_thickness},
        Evaluator{"tip.short_circuit", tip_short_circuit},
        Evaluator{"tip.spray", tip_spray},
        Evaluator{"tip.flux_cored_gas", tip_flux_cored_gas},
        Evaluator{"tip.flux_cored_self", tip_flux_cored_self},
        Evaluator{"tip.least", tip_least},
        Evaluator{"travel.by_hand", travel_by_hand},
        Evaluator{"travel.tig", travel_tig},
        Evaluator{"torch.drag_with_slag", drag_with_slag},
        Evaluator{"torch.push_on_sheet", push_on_sheet},
    };
    return table;
}

} // namespace holdtrue::arc
