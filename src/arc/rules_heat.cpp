#include "arc/evaluators.h"
#include "units/apart_text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

double start_k(const Facts& facts) { return std::max(facts.section.start_k, facts.card.preheat_k); }
bool mild_steel(const Facts& facts) { return facts.section.metal == material::Metal::mild_steel; }
bool plug(const Facts& facts) { return facts.is(part::JointType::plug); }
bool butt(const Facts& facts) { return facts.is(part::JointType::butt); }

std::string thickness_words(const Facts& facts, bool a) {
    return facts.say(a ? facts.section.thickness_a_m : facts.section.thickness_b_m, units::length);
}

Remedy more_heat(const Facts& facts, double shortfall) {
    // Penetration goes with I^(4/3).
    const double current = facts.figures.arc.current_a * std::pow(std::clamp(shortfall, 1.0, 3.0), 0.75);
    return facts.feed_for(current);
}

std::optional<Finding> fusion(const Rule& rule, const Facts& facts) {
    if (facts.section.metal == material::Metal::aluminium || facts.figures.arc.current_a <= 0)
        return std::nullopt;
    // The member that is nearest to not fusing; a plug melts the sheet below, a tack's ends are melted again.
    const MemberFusion &a = facts.figures.members.fusion_a, &b = facts.figures.members.fusion_b;
    const auto cover = [](const MemberFusion& f) { return f.needed_m > 0 ? f.low_m / f.needed_m : 1e9; };
    const bool weakest_a = !plug(facts) && cover(a) <= cover(b);
    const MemberFusion& weakest = weakest_a ? a : b;
    const double shortfall = weakest.needed_m / std::max(weakest.low_m, 1e-9);

    const std::string into = thickness_words(facts, weakest_a);
    Finding finding = judge_band(
        rule, facts,
        at_least(Sentence(worded("The melted depth of the {0} member"), {into}), weakest.penetration_m,
                 weakest.needed_m, worded("the bead may lie on it without fusing"),
                 more_heat(facts, shortfall)
                     .or_else(facts.unequal() ? Sentence(worded("aim more at the thicker member or preheat it"))
                                              : Sentence())));
    if (finding.verdict == Verdict::pass && weakest.low_m < weakest.needed_m) {
        finding.verdict = Verdict::caution;
        const auto [least, needed] =
            facts.wordless ? units::ApartTexts()
                           : units::apart_texts(weakest.low_m, weakest.needed_m, units::length, facts.system);
        finding.sentence =
            Sentence(worded("The melted depth of the {0} member is {1}, but may be as little as {2}, below {3}: it may "
                            "not fuse everywhere."),
                     {into, finding.measured, least, needed});
        finding.measured = Sentence(worded("{0}, perhaps {1}"), {finding.measured, least});
        finding.asked = more_heat(facts, shortfall);
    }
    return finding;
}

struct Weakest {
    const BackFace& face;
    bool a;
};
Weakest hotter_back(const Facts& facts) {
    const Members& members = facts.figures.members;
    const bool a = !plug(facts) && members.back_a.spare_k <= members.back_b.spare_k;
    return {a ? members.back_a : members.back_b, a};
}

// Less heat for each mm, by travel.
Remedy less_heat(const Facts& facts, double factor) {
    if (plug(facts))
        return worded("lower the wire feed and volts, or weld the plug in two goes");
    return Remedy(Adjustable::travel, facts.card.travel_m_per_s * factor)
        .or_else(facts.unequal() ? Sentence(worded("aim more at the thicker member")) : Sentence());
}

std::optional<Finding> back_face(const Rule& rule, const Facts& facts) {
    if ((butt(facts) && !facts.section.backing) || facts.figures.arc.current_a <= 0 || facts.is(part::JointType::edge))
        return std::nullopt;
    if (butt(facts)) // the bar behind it holds the pool
        return judge_fact(rule, true, worded("backing bar"), worded("backing bar"),
                          worded("The backing bar holds the pool."), {});
    const auto [face, a] = hotter_back(facts);
    Finding finding = judge_band(rule, facts, at_most({}, face.molten_share, rule.high, {}, less_heat(facts, 1.25)));
    if (face.molten_share >= 1)
        finding.verdict = rule.severity == Severity::caution ? Verdict::caution : Verdict::fail;
    finding.measured = facts.say(face.peak_k, units::temperature);
    finding.limit =
        Sentence(worded("below {0}"), {facts.say(melting_of(facts.section.metal).solidus_k, units::temperature)});
    finding.sentence =
        Sentence(face.molten_share >= 1  ? worded("The back face of the {0} member reaches about {1} and is wholly "
                                                   "molten: the pool falls through.")
                 : face.molten_share > 0 ? worded("The back face of the {0} member reaches about {1} and begins to "
                                                  "melt: with any gap the pool falls through.")
                                         : worded("The back face of the {0} member reaches about {1}, {2} short of "
                                                  "melting."),
                 {thickness_words(facts, a), finding.measured, units::difference_text(face.spare_k, facts.system)});
    if (finding.verdict != Verdict::pass)
        finding.asked = less_heat(facts, face.molten_share >= 1 ? 1.3 : 1.15);
    return finding;
}

std::optional<Finding> spare(const Rule& rule, const Facts& facts) {
    constexpr double sheet_to_m = 3e-3;
    if (butt(facts) || plug(facts) || facts.is(part::JointType::edge) || facts.section.thinner_m() > sheet_to_m ||
        facts.figures.arc.current_a <= 0)
        return std::nullopt;
    const auto [face, a] = hotter_back(facts);
    Finding finding = judge_band(rule, facts, at_least({}, face.spare_k, rule.low, {}, less_heat(facts, 1.1)));
    finding.measured = units::difference_text(face.spare_k, facts.system);
    finding.limit = Sentence(worded("at least {0}"), {units::difference_text(rule.low_or_stop(), facts.system)});
    finding.sentence =
        Sentence(face.spare_k < 0 ? worded("The back face of the {0} member passes the solidus.")
                                  : worded("The back face of the {0} member stays {1} below the solidus."),
                 {thickness_words(facts, a), finding.measured});
    return finding;
}

// Preheat rules compare the temperature at which the arc strikes.
Finding warm_enough(const Rule& rule, const Facts& facts, double least_k, Sentence why) {
    return judge_band(rule, facts,
                      at_least(worded("The metal before welding"), start_k(facts), least_k, std::move(why),
                               Remedy(Adjustable::preheat, least_k)));
}

std::optional<Finding> method_b(const Rule& rule, const Facts& facts) {
    if (!facts.figures.preheat || !facts.figures.preheat->method_b_k)
        return std::nullopt;
    return warm_enough(rule, facts, *facts.figures.preheat->method_b_k,
                       worded("this steel at this thickness hardens and may crack in the cold"));
}

std::optional<Finding> aws_table(const Rule& rule, const Facts& facts) {
    if (!mild_steel(facts) || facts.section.thicker_m() < 3e-3)
        return std::nullopt;
    return warm_enough(rule, facts, rule.at(facts.section.thicker_m()).low,
                       worded("metal so cold, for its thickness, chills the weld and may crack it"));
}

std::optional<Finding> cold_metal(const Rule& rule, const Facts& facts) {
    Finding finding = warm_enough(rule, facts, rule.low_or_stop(), worded("it is wet or frosted and chills the bead"));
    if (finding.verdict != Verdict::pass)
        finding.asked = Remedy(Adjustable::preheat, 293.15);
    return finding;
}

std::optional<Finding> ambient(const Rule& rule, const Facts& facts) {
    return judge_band(rule, facts,
                      at_least(worded("The metal as it lies"), facts.section.start_k, rule.low,
                               worded("too cold to weld at all"), worded("bring the work indoors")));
}

std::optional<Finding> thin_sheet(const Rule& rule, const Facts& facts) {
    if (!mild_steel(facts) || facts.section.thinner_m() > 4e-3 || facts.card.preheat_k <= 0 ||
        (facts.figures.preheat && facts.figures.preheat->needed_k > rule.high_or_stop()))
        return std::nullopt;
    return judge_band(rule, facts,
                      at_most(worded("The preheat of thin sheet"), facts.card.preheat_k, rule.high,
                              worded("it adds to burn-through and pull"),
                              Remedy(Adjustable::preheat, rule.high_or_stop())));
}

std::optional<Finding> interpass_band(const Rule& rule, const Facts& facts) {
    return judge_band(
        rule, facts,
        at_most(worded("The joint before the pass"), start_k(facts), rule.high,
                worded("the bead runs, and the part pulls more"),
                Sentence(worded("wait until it is below {0}"),
                         {facts.say(rule.caution_above.value_or(rule.high_or_stop()), units::temperature)})));
}

std::optional<Finding> interpass_most(const Rule& rule, const Facts& facts) {
    return mild_steel(facts) ? interpass_band(rule, facts) : std::optional<Finding>{};
}

std::optional<Finding> interpass_stainless(const Rule& rule, const Facts& facts) {
    return facts.section.metal == material::Metal::stainless ? interpass_band(rule, facts) : std::optional<Finding>{};
}

std::optional<Finding> too_fast(const Rule& rule, const Facts& facts) {
    if (!facts.figures.preheat || facts.figures.preheat->ce_iiw < 0.40 || facts.section.thicker_m() < 6e-3 ||
        plug(facts) || facts.figures.cooling.seconds() <= 0)
        return std::nullopt;
    return judge_band(rule, facts,
                      at_least(worded("The cooling time from 800 to 500 °C"), facts.figures.cooling.seconds(), rule.low,
                               worded("the steel beside the weld hardens"),
                               Remedy(Adjustable::preheat, start_k(facts) + 50).or_else(worded("travel slower"))));
}

std::optional<Finding> heat_input(const Rule& rule, const Facts& facts) {
    const double mean_m = (facts.section.thickness_a_m + facts.section.thickness_b_m) / 2;
    if (plug(facts) || mean_m > 8e-3 || facts.section.metal == material::Metal::aluminium ||
        facts.figures.arc.heat_input_j_per_m <= 0)
        return std::nullopt;
    const double per_thickness = facts.figures.arc.heat_input_j_per_m * 1e-3 / (mean_m * 1e3); // J/mm per mm
    return judge_band(
        rule, facts,
        at_most(worded("Net heat by length of run and thickness"), per_thickness, rule.high,
                worded("the work warps more than it must"),
                Remedy(Adjustable::travel, facts.card.travel_m_per_s * per_thickness / rule.high_or_stop())));
}

} // namespace

std::span<const Evaluator> heat_evaluators() {
    static constexpr std::array table{
        Evaluator{"fusion.members", fusion},         Evaluator{"burn_through.back_face", back_face},
        Evaluator{"burn_through.spare", spare},      Evaluator{"preheat.method_b", method_b},
        Evaluator{"preheat.aws_table", aws_table},   Evaluator{"preheat.cold_metal", cold_metal},
        Evaluator{"preheat.ambient", ambient},       Evaluator{"preheat.thin_sheet", thin_sheet},
        Evaluator{"interpass.most", interpass_most}, Evaluator{"interpass.stainless", interpass_stainless},
        Evaluator{"cooling.too_fast", too_fast},     Evaluator{"heat_input.most", heat_input},
    };
    return table;
}

} // namespace holdtrue::arc
