#include "arc/evaluators.h"
#include "arc/power_source.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

using material::Metal;

bool steel_by_solid_wire(const Facts& facts) { return facts.fed_solid() && facts.section.metal == Metal::mild_steel; }

// A current within a band of amperes.
Finding current_band(const Rule& rule, const Facts& facts, Sentence what, double low, double high) {
    return judge_band(rule, facts,
                      {std::move(what), facts.figures.arc.current_a, low, high,
                       worded("the bead would lie on the steel instead of melting into it"),
                       worded("the arc melts through, or the pool runs out of hand"), facts.feed_for(low),
                       facts.feed_for(high)});
}

// The band of rule current.by_thickness at this joint's governing thickness, its ends moved by the factors of `rule`.
Finding scaled_band(const Rule& rule, const Facts& facts, text::Wording current) {
    const double thickness_m = facts.figures.governing_thickness_m;
    const RuleRow row = facts.other("current.by_thickness").at(thickness_m);
    Rule in_ampere = rule;
    in_ampere.unit = "A";
    return current_band(in_ampere, facts, {current, {facts.say(thickness_m, units::length)}},
                        rule.low_or_stop() * row.low, rule.high_or_stop() * row.high);
}

std::optional<Finding> by_thickness(const Rule& rule, const Facts& facts) {
    if (!steel_by_solid_wire(facts) || facts.unequal() || facts.is(part::JointType::plug) || facts.open_root())
        return std::nullopt;
    const double thickness_m = facts.figures.governing_thickness_m;
    const RuleRow row = rule.at(thickness_m);
    return current_band(rule, facts, {worded("The current on {0}"), {facts.say(thickness_m, units::length)}}, row.low,
                        row.high);
}

std::optional<Finding> unequal_members(const Rule& rule, const Facts& facts) {
    if (!steel_by_solid_wire(facts) || !facts.unequal() || facts.is(part::JointType::plug))
        return std::nullopt;
    return scaled_band(rule, facts, worded("The current on unequal members, as for {0},"));
}

std::optional<Finding> plug_below_joint(const Rule& rule, const Facts& facts) {
    if (!steel_by_solid_wire(facts) || !facts.is(part::JointType::plug))
        return std::nullopt;
    return scaled_band(rule, facts, worded("The current in a plug, as for {0},"));
}

std::optional<Finding> open_root(const Rule& rule, const Facts& facts) {
    if (!steel_by_solid_wire(facts) || !facts.open_root())
        return std::nullopt;
    return judge_band(rule, facts,
                      {worded("The current in an open root"), facts.figures.arc.current_a, rule.low, rule.high,
                       worded("the edges do not melt, and the root stays open"),
                       worded("the pool falls through the gap"), facts.feed_for(rule.low_or_stop()),
                       facts.feed_for(rule.high_or_stop())});
}

std::optional<Finding> amp_per_thousandth(const Rule& rule, const Facts& facts) {
    constexpr double holds_to_m = 3.2e-3;
    const double thickness_m = facts.figures.governing_thickness_m;
    if (!steel_by_solid_wire(facts) || thickness_m > holds_to_m)
        return std::nullopt;
    const double by_rule_a = thickness_m / (units::inch / 1000);
    const double low = rule.low_or_stop() * by_rule_a, high = rule.high_or_stop() * by_rule_a;
    return judge_band(rule, facts,
                      {worded("The current against one ampere per thousandth of an inch"),
                       facts.figures.arc.current_a / by_rule_a, rule.low, rule.high,
                       worded("a weak arc for this sheet"), worded("a strong arc for this sheet"), facts.feed_for(low),
                       facts.feed_for(high)});
}

std::optional<Finding> wire_band(const Rule& rule, const Facts& facts, Transfer transfer, Sentence what) {
    if (!steel_by_solid_wire(facts) || facts.figures.arc.state.transfer != transfer)
        return std::nullopt;
    const RuleRow row = rule.at(facts.figures.setting.wire_diameter_m);
    return judge_band(rule, facts,
                      {std::move(what), facts.figures.arc.current_a, row.low, row.high,
                       worded("this wire hardly holds an arc so weak; a thinner wire would"),
                       worded("too much for this wire; a thicker wire carries it"), facts.feed_for(row.low),
                       facts.feed_for(row.high).or_else(worded("take a thicker wire"))});
}

std::optional<Finding> wire_short_circuit(const Rule& rule, const Facts& facts) {
    return wire_band(rule, facts, Transfer::short_circuit, worded("The current of this short-circuiting wire"));
}

std::optional<Finding> wire_spray(const Rule& rule, const Facts& facts) {
    return wire_band(rule, facts, Transfer::spray, worded("The current of this spraying wire"));
}

std::optional<Finding> tig_by_thickness(const Rule& rule, const Facts& facts) {
    if (facts.card.process != Process::tig_141 || facts.section.metal == Metal::aluminium)
        return std::nullopt;
    const RuleRow row = rule.at(facts.figures.governing_thickness_m);
    return current_band(rule, facts, worded("The current of the TIG arc"), row.low, row.high);
}

std::optional<Finding> source_rating(const Rule& rule, const Facts& facts) {
    const bool rated = !facts.shop.sources.empty() && facts.shop.sources.front().rated_current_a > 0;
    const double high = rated ? facts.shop.sources.front().rated_current_a : rule.high_or_stop();
    return judge_band(rule, facts,
                      at_most(worded("The current asked of the power source"), facts.figures.arc.current_a, high,
                              worded("the source cannot give it for long"), facts.feed_for(high)));
}

// A broken place of the dial ends the range on the side that is nearer.
void leave_out_dead(const std::vector<DeadRange>& dead, double value, double& low, double& high) {
    for (const DeadRange& range : dead) {
        if (!std::isfinite(range.low) || !std::isfinite(range.high) || !range.holds(value))
            continue;
        if (value - range.low < range.high - value)
            high = range.low;
        else
            low = range.high;
    }
}

std::optional<Finding> feed_range(const Rule& rule, const Facts& facts) {
    if (facts.card.process == Process::tig_141)
        return std::nullopt;
    double low = rule.low_or_stop(), high = rule.high_or_stop();
    if (!facts.shop.sources.empty() && facts.shop.sources.front().feed_high_m_per_s > 0) {
        low = facts.shop.sources.front().feed_low_m_per_s;
        high = facts.shop.sources.front().feed_high_m_per_s;
        leave_out_dead(facts.shop.sources.front().feed_dead, facts.card.wire_feed_m_per_s, low, high);
    }
    const auto to = [&](double feed) { return Remedy(Adjustable::wire_feed, feed); };
    return judge_band(rule, facts,
                      {worded("The wire feed"), facts.card.wire_feed_m_per_s, low, high,
                       worded("the feeder does not turn so slowly"), worded("the feeder does not turn so fast"),
                       to(low), to(high).or_else(worded("take a thicker wire"))});
}

std::optional<Finding> volts_range(const Rule& rule, const Facts& facts) {
    double low = rule.low_or_stop(), high = rule.high_or_stop();
    if (!facts.shop.sources.empty() && facts.shop.sources.front().volts_high_v > 0) {
        low = facts.shop.sources.front().volts_low_v;
        high = facts.shop.sources.front().volts_high_v;
        leave_out_dead(facts.shop.sources.front().volts_dead, facts.card.volts_v, low, high);
    }
    return judge_band(rule, facts,
                      {worded("The voltage"), facts.card.volts_v, low, high,
                       worded("the source gives more than that at the least"), worded("the source does not reach it"),
                       Remedy(Adjustable::volts, low), Remedy(Adjustable::volts, high)});
}

std::optional<Finding> duty(const Rule& rule, const Facts& facts) {
    if (!facts.figures.duty)
        return std::nullopt;
    const double current_a = facts.figures.arc.current_a, share = *facts.figures.duty;
    const double least = rule.low_or_stop();
    Finding finding = judge_band(rule, facts, at_least({}, share, least, {}, {})); // its words follow
    // Minutes of ten say more than a share.
    const auto percent = [](double of_one) { return units::significant_text(100 * of_one) + std::string(" %"); };
    finding.measured = percent(share);
    finding.limit = Sentence(worded("at least {0}"), {percent(least)});
    finding.sentence =
        Sentence(finding.verdict == Verdict::pass
                     ? worded("At {0} the source may weld {1} of every 10 minutes.")
                     : worded("At {0} the source may weld {1} of every 10 minutes: it must rest most of the time."),
                 {facts.say(current_a, units::current), units::significant_text(10 * share)});
    if (finding.verdict != Verdict::pass)
        finding.asked = facts.feed_for(current_a * std::sqrt(share / least)).or_else(worded("plan pauses"));
    return finding;
}

} // namespace

std::span<const Evaluator> current_evaluators() {
    static constexpr std::array table{
        Evaluator{"current.by_thickness", by_thickness},
        Evaluator{"current.open_root", open_root},
        Evaluator{"current.unequal_members", unequal_members},
        Evaluator{"current.amp_per_thousandth", amp_per_thousandth},
        Evaluator{"current.wire_short_circuit", wire_short_circuit},
        Evaluator{"current.wire_spray", wire_spray},
        Evaluator{"current.plug_below_joint", plug_below_joint},
        Evaluator{"current.tig_by_thickness", tig_by_thickness},
        Evaluator{"current.source_rating", source_rating},
        Evaluator{"feed.source_range", feed_range},
        Evaluator{"volts.source_range", volts_range},
        Evaluator{"duty.at_current", duty},
    };
    return table;
}

} // namespace holdtrue::arc
