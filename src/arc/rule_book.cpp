#include "arc/rule_book.h"

#include "arc/evaluators.h"
#include "arc/melting_rate.h"
#include "text/assets.h"
#include "text/verify.h"
#include "units/apart_text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

std::vector<Evaluator> all_evaluators() {
    std::vector<Evaluator> all;
    for (const auto& group :
         {current_evaluators(), arc_evaluators(), fillet_evaluators(), plug_and_tack_evaluators(), groove_evaluators(),
          gas_evaluators(), wire_evaluators(), heat_evaluators(), safety_evaluators()})
        all.insert(all.end(), group.begin(), group.end());
    return all;
}

const std::vector<Evaluator>& evaluators() {
    static const std::vector<Evaluator> all = all_evaluators();
    return all;
}

// A number with the unit of a rule that has no dimension.
Sentence with_unit(const Rule& rule, const std::string& number) {
    if (rule.unit == "x")
        return {worded("{0} times"), {number}};
    if (rule.unit == "per s")
        return {worded("{0} per s"), {number}};
    if (rule.unit == "shade")
        return {worded("{0} shade"), {number}};
    return rule.unit == "-" || rule.unit == "share" ? number : number + " " + rule.unit;
}

// A number in the unit of a rule, as this reader sees units.
Sentence show_in(const Rule& rule, const Facts& facts, double value) {
    if (const units::Dimension* dimension = dimension_of(rule.unit))
        return facts.say(value, *dimension);
    return with_unit(rule, units::significant_text(value));
}

// A value and the bound that it breaks.
std::pair<Sentence, Sentence> show_apart(const Rule& rule, const Facts& facts, double value, double bound) {
    if (const units::Dimension* dimension = dimension_of(rule.unit)) {
        const units::ApartTexts shown = units::apart_texts(value, bound, *dimension, facts.system);
        return {shown.one, shown.other};
    }
    const units::ApartTexts numbers = units::apart_texts(value, bound);
    return {with_unit(rule, numbers.one), with_unit(rule, numbers.other)};
}

Sentence limit_words(const Rule& rule, const Facts& facts, const Band& band) {
    if (band.low && band.high) {
        const units::Dimension* dimension = dimension_of(rule.unit);
        const double low = dimension ? units::workshop_unit(*dimension, facts.system).from_si(*band.low) : *band.low;
        return {worded("{0} to {1}"), {units::significant_text(low), show_in(rule, facts, *band.high)}};
    }
    if (band.low)
        return {worded("at least {0}"), {show_in(rule, facts, *band.low)}};
    return band.high ? Sentence(worded("at most {0}"), {show_in(rule, facts, *band.high)}) : Sentence();
}

Finding start(const Rule& rule) {
    Finding finding;
    finding.rule = rule.id;
    finding.about = rule.about;
    finding.unit = rule.unit;
    finding.source = rule.source;
    finding.mark = rule.mark;
    return finding;
}

std::filesystem::path shipped_folder() { return text::assets_folder() / "rules"; }

Verdict verdict_of(Severity severity) { return severity == Severity::caution ? Verdict::caution : Verdict::fail; }

} // namespace

const Rule& Facts::other(std::string_view id) const {
    const Rule* rule = book.find(id);
    VERIFY(rule, "a rule builds on one that is not in the book");
    return *rule;
}

bool Facts::fed_solid() const {
    return (card.process == Process::mag_135 || card.process == Process::mig_131) &&
           figures.setting.wire.form == material::WireForm::solid;
}

bool Facts::has_gas() const { return figures.setting.gas.inert() + figures.setting.gas.active() > 0; }

bool Facts::has_leg() const {
    return is(part::JointType::fillet) || is(part::JointType::lap) || is(part::JointType::corner);
}

Remedy Facts::feed_for(double current_a) const {
    if (card.process == Process::tig_141)
        return {Adjustable::current, current_a};
    if (wordless)
        return {};
    return {Adjustable::wire_feed,
            melting_rate(figures.setting.wire_diameter_m, figures.setting.wire.form, figures.setting.wire.metal)
                .feed_m_per_s(current_a, electrode_extension_m(card.tip_distance_m))};
}

Finding judge_band(const Rule& rule, const Facts& facts, Band band) {
    if (band.high && !std::isfinite(*band.high))
        band.high.reset();
    // A hair, so that a bound reached by arithmetic counts as met.
    const auto hair = [](double bound) { return 1e-9 * std::max(1.0, std::abs(bound)); };
    const bool too_low = band.low && band.value < *band.low - hair(*band.low);
    const bool too_high = !too_low && band.high && band.value > *band.high + hair(*band.high);
    const bool high_side =
        !too_low && !too_high && rule.caution_above && band.value > *rule.caution_above + hair(*rule.caution_above);

    Finding finding;
    if (!facts.wordless)
        finding = start(rule);
    if (too_low || too_high)
        finding.verdict = verdict_of(rule.severity);
    else if (high_side)
        finding.verdict = Verdict::caution;
    if (facts.wordless)
        return finding;

    finding.value = band.value;
    finding.low = band.low;
    finding.high = band.high;
    finding.measured = show_in(rule, facts, band.value);
    finding.limit = limit_words(rule, facts, band);
    const auto breaks = [&](text::Wording pattern, double bound, Sentence consequence) {
        const auto [value, limit] = show_apart(rule, facts, band.value, bound);
        finding.measured = value;
        finding.sentence = Sentence(pattern, {std::move(band.what), value, limit, std::move(consequence)});
    };
    if (too_low) {
        breaks(worded("{0} is {1}, below {2}: {3}."), *band.low, std::move(band.if_low));
        finding.asked = std::move(band.raise);
    } else if (too_high || high_side) {
        breaks(worded("{0} is {1}, above {2}: {3}."), too_high ? *band.high : *rule.caution_above,
               std::move(band.if_high));
        if (high_side)
            finding.limit =
                Sentence(worded("better at most {0}; {1}"), {show_in(rule, facts, *rule.caution_above), finding.limit});
        finding.asked = std::move(band.lower);
    } else
        finding.sentence = Sentence(worded("{0} is {1} (asked: {2})."), {band.what, finding.measured, finding.limit});
    return finding;
}

Finding judge_fact(const Rule& rule, bool right, Sentence measured, Sentence limit, Sentence sentence, Remedy change) {
    Finding finding = start(rule);
    finding.verdict = right ? Verdict::pass : verdict_of(rule.severity);
    finding.measured = std::move(measured);
    finding.limit = std::move(limit);
    finding.sentence = std::move(sentence);
    if (!right)
        finding.asked = std::move(change);
    return finding;
}

RuleBook RuleBook::read(const std::filesystem::path& rules_folder) {
    RuleBook book;
    book.folder_ = rules_folder;
    const std::vector<Rule> shipped = read_rules(shipped_folder());
    for (Rule& rule : read_rules(rules_folder)) {
        const auto found = std::ranges::find(evaluators(), rule.id, &Evaluator::id);
        const auto same = std::ranges::find(shipped, rule.id, &Rule::id);
        if (found == evaluators().end() || (same != shipped.end() && !rule.stands_for(*same))) {
            book.unjudged_.push_back(std::move(rule));
            continue;
        }
        book.rules_.push_back(std::move(rule));
        book.evaluator_of_.push_back(static_cast<std::size_t>(found - evaluators().begin()));
    }
    for (const char* id : {"current.by_thickness", "current.tig_by_thickness", "current.wire_spray", "plug.least_hole"})
        if (!book.find(id))
            throw text::InputError(
                rules_folder.string(), 0, {text::worded("the rule {0} is missing"), {std::string(id)}},
                text::worded("restore its entry: other rules and the search for settings build on it"));
    return book;
}

RuleBook RuleBook::read() { return read(shipped_folder()); }

const Rule* RuleBook::find(std::string_view id) const {
    const auto found = std::ranges::find(rules_, id, &Rule::id);
    return found == rules_.end() ? nullptr : &*found;
}

std::vector<Finding> RuleBook::judge(const SettingCard& card, const Shop& shop, const Section& section,
                                     units::System system) const {
    return judge(card, shop, section, setup_figures(card, shop, section), system);
}

std::vector<Finding> RuleBook::judge(const SettingCard& card, const Shop& shop, const Section& section,
                                     const SetupFigures& figures, units::System system) const {
    const Facts facts{card, shop, section, figures, system, *this};
    std::vector<Finding> findings;
    std::vector<std::size_t> rules; // finding_count
    for (std::size_t i = 0; i < rules_.size(); ++i)
        if (auto finding = evaluators()[evaluator_of_[i]].evaluate(rules_[i], facts)) {
            advise(*this, facts, i, *finding);
            findings.push_back(std::move(*finding));
            rules.push_back(i);
        }
    let_advice_agree(*this, facts, rules, findings);
    return findings;
}

std::optional<Verdict> RuleBook::verdict(std::size_t rule, const SettingCard& card, const Shop& shop,
                                         const Section& section, const SetupFigures& figures) const {
    const Facts facts{card, shop, section, figures, units::System::metric, *this, true};
    const auto finding = evaluators()[evaluator_of_[rule]].evaluate(rules_[rule], facts);
    return finding ? std::optional(finding->verdict) : std::nullopt;
}

std::vector<RuleBook::Judged> RuleBook::verdicts(const SettingCard& card, const Shop& shop, const Section& section,
                                                 const SetupFigures& figures) const {
    const Facts facts{card, shop, section, figures, units::System::metric, *this, true};
    std::vector<Judged> judged;
    judged.reserve(rules_.size());
    for (std::size_t i = 0; i < rules_.size(); ++i)
        if (const auto finding = evaluators()[evaluator_of_[i]].evaluate(rules_[i], facts))
            judged.push_back({&rules_[i], finding->verdict});
    return judged;
}

std::vector<std::string> evaluator_ids() {
    std::vector<std::string> ids;
    for (const Evaluator& evaluator : evaluators())
        ids.emplace_back(evaluator.id);
    return ids;
}

Verdict worst(const std::vector<Finding>& findings) {
    Verdict verdict = Verdict::pass;
    for (const Finding& finding : findings)
        verdict = std::max(verdict, finding.verdict);
    return verdict;
}

const char* in_words(Verdict verdict) {
    switch (verdict) {
    case Verdict::pass:
        return "pass";
    case Verdict::caution:
        return "caution";
    case Verdict::fail:
        return "fail";
    }
    return "";
}

} // namespace holdtrue::arc
