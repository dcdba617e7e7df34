#include "arc/evaluators.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

double start_k(const Facts& facts) { return std::max(facts.section.start_k, facts.card.preheat_k); }
bool mild_steel(const Facts& facts) { return facts.section.metal == material::Metal::mild_steel; }
bool plug(const Facts& facts) { return facts.is(part::JointType::plug); }
bool butt(const Facts& facts) { return facts.is(part::JointType::butt); }

std::string member_words(const Facts& facts, bool a) {
    return "the " + facts.say(a ? facts.section.thickness_a_m : facts.section.thickness_b_m, units::length) + " member";
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

    const std::string into = member_words(facts, weakest_a);
    Finding finding = judge_band(
        rule, facts,
        {"The melted depth of " + into, weakest.penetration_m, weakest.needed_m, std::nullopt,
         "the bead may lie on it without fusing", "",
         more_heat(facts, shortfall) + (facts.unequal() ? ", or aim more at the thicker member or preheat it" : ""),
         ""});
    if (finding.verdict == Verdict::pass && weakest.low_m < weakest.needed_m) {
        finding.verdict = Verdict::caution;
        const std::string least = facts.say(weakest.low_m, units::length);
        finding.sentence = "The melted depth of " + into + " is " + finding.measured + ", but may be as little as " +
                           least + ", below " + facts.say(weakest.needed_m, units::length) +
                           ": it may not fuse everywhere.";
        finding.measured += ", perhaps " + least;
        ask(finding, more_heat(facts, shortfall));
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
        return "lower the wire feed and volts, or weld the plug in two goes";
    return Remedy(Adjustable::travel, facts.card.travel_m_per_s * factor) +
           (facts.unequal() ? ", or aim more at the thicker member" : "");
}

std::optional<Finding> back_face(const Rule& rule, const Facts& facts) {
    if ((butt(facts) && !facts.section.backing) || facts.figures.arc.current_a <= 0 || facts.is(part::JointType::edge))
        return std::nullopt;
    if (butt(facts)) // the bar behind it holds the pool
        return judge_fact(rule, true, "backing bar", "backing bar", "The backing bar holds the pool.", "");
    const auto [face, a] = hotter_back(facts);
    Finding finding = judge_band(
        rule, facts, {"Molten share", face.molten_share, std::nullopt, rule.high, "", "", "", less_heat(facts, 1.25)});
    if (face.molten_share >= 1)
        finding.verdict = rule.severity == Severity::fail ? Verdict::fail : Verdict::caution;
    finding.measured = facts.say(face.peak_k, units::temperature);
    finding.limit = "below " + facts.say(melting_of(facts.section.metal).solidus_k, units::temperature);
    finding.sentence = "The back face of " + member_words(facts, a) + " reaches about " + finding.measured;
    if (face.molten_share >= 1)
        finding.sentence += " and is wholly molten: the pool falls through.";
    else if (face.molten_share > 0)
        finding.sentence += " and begins to melt: with any gap the pool falls through.";
    else
        finding.sentence += ", " + units::difference_text(face.spare_k, facts.system) + " short of melting.";
    if (finding.verdict != Verdict::pass)
        ask(finding, less_heat(facts, face.molten_share >= 1 ? 1.3 : 1.15));
    return finding;
}

std::optional<Finding> spare(const Rule& rule, const Facts& facts) {
    constexpr double sheet_to_m = 3e-3;
    if (butt(facts) || plug(facts) || facts.is(part::JointType::edge) || facts.section.thinner_m() > sheet_to_m ||
        facts.figures.arc.current_a <= 0)
        return std::nullopt;
    const auto [face, a] = hotter_back(facts);
    Finding finding =
        judge_band(rule, facts, {"The spare", face.spare_k, rule.low, std::nullopt, "", "", less_heat(facts, 1.1), ""});
    finding.measured = units::difference_text(face.spare_k, facts.system);
    finding.limit = "at least " + units::difference_text(rule.low_or_stop(), facts.system);
    finding.sentence =
        "The back face of " + member_words(facts, a) +
        (face.spare_k < 0 ? " passes the solidus." : " stays " + finding.measured + " below the solidus.");
    return finding;
}

// Preheat rules compare the temperature at which the arc strikes.
Finding warm_enough(const Rule& rule, const Facts& facts, double least_k, const char* why) {
    return judge_band(rule, facts,
                      {"The metal before welding", start_k(facts), least_k, std::nullopt, why, "",
                       Remedy(Adjustable::preheat, least_k), ""});
}

std::optional<Finding> method_b(const Rule& rule, const Facts& facts) {
    if (!facts.figures.preheat || !facts.figures.preheat->method_b_k)
        return std::nullopt;
    return warm_enough(rule, facts, *facts.figures.preheat->method_b_k,
                       "this steel at this thickness hardens and may crack in the cold");
}

std::optional<Finding> aws_table(const Rule& rule, const Facts& facts) {
    if (!mild_steel(facts) || facts.section.thicker_m() < 3e-3)
        return std::nullopt;
    return warm_enough(rule, facts, rule.at(facts.section.thicker_m()).low,
                       "metal so cold, for its thickness, chills the weld and may crack it");
}

std::optional<Finding> cold_metal(const Rule& rule, const Facts& facts) {
    Finding finding = warm_enough(rule, facts, rule.low_or_stop(), "it is wet or frosted and chills the bead");
    if (finding.verdict != Verdict::pass)
        ask(finding, Remedy(Adjustable::preheat, 293.15));
    return finding;
}

std::optional<Finding> ambient(const Rule& rule, const Facts& facts) {
    return judge_band(rule, facts,
                      {"The metal as it lies", facts.section.start_k, rule.low, std::nullopt, "too cold to weld at all",
                       "", "bring the work indoors", ""});
}

std::optional<Finding> thin_sheet(const Rule& rule, const Facts& facts) {
    if (!mild_steel(facts) || facts.section.thinner_m() > 4e-3 || facts.card.preheat_k <= 0 ||
        (facts.figures.preheat && facts.figures.preheat->needed_k > rule.high_or_stop()))
        return std::nullopt;
    return judge_band(rule, facts,
                      {"The preheat of thin sheet", facts.card.preheat_k, std::nullopt, rule.high, "",
                       "it adds to burn-through and pull", "", Remedy(Adjustable::preheat, rule.high_or_stop())});
}

std::optional<Finding> interpass_band(const Rule& rule, const Facts& facts) {
    return judge_band(
        rule, facts,
        {"The joint before the pass", start_k(facts), std::nullopt, rule.high, "",
         "the bead runs, and the part pulls more", "",
         "wait until it is below " + facts.say(rule.caution_above.value_or(rule.high_or_stop()), units::temperature)});
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
                      {"The cooling time from 800 to 500 °C", facts.figures.cooling.seconds(), rule.low, std::nullopt,
                       "the steel beside the weld hardens", "",
                       Remedy(Adjustable::preheat, start_k(facts) + 50) + ", or travel slower", ""});
}

std::optional<Finding> heat_input(const Rule& rule, const Facts& facts) {
    const double mean_m = (facts.section.thickness_a_m + facts.section.thickness_b_m) / 2;
    if (plug(facts) || mean_m > 8e-3 || facts.section.metal == material::Metal::aluminium ||
        facts.figures.arc.heat_input_j_per_m <= 0)
        return std::nullopt;
    const double per_thickness = facts.figures.arc.heat_input_j_per_m * 1e-3 / (mean_m * 1e3); // J/mm per mm
    return judge_band(rule, facts,
                      {"Net heat by length of run and thickness", per_thickness, std::nullopt, rule.high, "",
                       "the work warps more than it must", "",
                       Remedy(Adjustable::travel, facts.card.travel_m_per_s * per_thickness / rule.high_or_stop())});
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
