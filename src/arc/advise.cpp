// Advice that has been tried: what a finding asks for is put on the card, and the book judges anew.
#include "arc/dial_fault.h"
#include "arc/evaluators.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace holdtrue::arc {
namespace {

struct Trial {
    SettingCard card;
    Section section;
    SetupFigures figures;
};

Trial with(const Facts& facts, const std::vector<Setting>& settings) {
    Trial trial{facts.card, facts.section, {}};
    for (const Setting& setting : settings)
        put(setting, trial.card, trial.section);
    trial.figures = setup_figures(trial.card, facts.shop, trial.section);
    return trial;
}

std::set<const Rule*> failed(const RuleBook& book, const Shop& shop, const SettingCard& card, const Section& section,
                             const SetupFigures& figures) {
    std::set<const Rule*> rules;
    for (const RuleBook::Judged& judged : book.verdicts(card, shop, section, figures))
        if (judged.verdict == Verdict::fail)
            rules.insert(judged.rule);
    return rules;
}

// What newly fails with these settings, in the order of the book.
std::vector<const Rule*> newly_failed(const RuleBook& book, const Facts& facts, const std::vector<Setting>& settings) {
    const auto before = failed(book, facts.shop, facts.card, facts.section, facts.figures);
    const Trial trial = with(facts, settings);
    const auto after = failed(book, facts.shop, trial.card, trial.section, trial.figures);
    std::vector<const Rule*> fresh;
    std::ranges::set_difference(after, before, std::back_inserter(fresh));
    return fresh; // pointers into one vector: the book's order
}

// The volts that go with a new wire feed: the usual ones at its current, in half volts.
std::optional<Setting> volts_with(const Facts& facts, const Setting& feed) {
    const double usual_v = with(facts, {feed}).figures.arc.state.usual_volts_v;
    const double volts_v = std::round(2 * usual_v) / 2;
    const bool can = facts.shop.sources.empty() || facts.shop.sources.front().volts_high_v <= 0 ||
                     std::abs(settable_volts_v(facts.shop.sources.front(), volts_v) - volts_v) < 1e-9;
    return can && volts_v >= 8 && volts_v <= 50 ? std::optional(Setting{Adjustable::volts, volts_v}) : std::nullopt;
}

} // namespace

void advise(const RuleBook& book, const Facts& facts, std::size_t rule, Finding& finding,
            const std::optional<Setting>& rather) {
    const Remedy& asked = finding.asked;
    if (!asked.what) {
        finding.change = asked.words;
        return;
    }
    const auto met = [&](const std::vector<Setting>& settings) {
        const Trial trial = with(facts, settings);
        const auto verdict = book.verdict(rule, trial.card, facts.shop, trial.section, trial.figures);
        return verdict == Verdict::pass;
    };
    const auto words = [&](const Setting& setting) {
        return in_words(setting, facts.card, facts.shop, facts.section, facts.system);
    };
    const auto found = rather && met({*rather}) ? rather
                                                : settle(asked, facts.card, facts.shop, facts.section, facts.system,
                                                         [&](const Setting& setting) { return met({setting}); });
    if (!found) {
        finding.change = asked.words.empty() ? Sentence(worded("{0} alone cannot cure it here: look at the joint and "
                                                               "at the rest of the card"),
                                                        {name_of(*asked.what)})
                                             : Sentence(worded("{0} alone cannot cure it here: {1}"),
                                                        {name_of(*asked.what), asked.words});
        return;
    }
    finding.advised = {*found};
    finding.change = words(*found);

    // Volts follow the feed, as they do at the machine.
    auto broken = newly_failed(book, facts, finding.advised);
    if (found->what == Adjustable::wire_feed &&
        std::ranges::any_of(broken, [](const Rule* fresh) { return fresh->id.starts_with("volts."); }))
        if (const auto volts = volts_with(facts, *found); volts && met({*found, *volts})) {
            finding.advised.push_back(*volts);
            finding.change = Sentence(worded("{0} and {1}"), {finding.change, words(*volts)});
            broken = newly_failed(book, facts, finding.advised);
        }
    if (!asked.words.empty())
        finding.change =
            Sentence(asked.both ? worded("{0} and {1}") : worded("{0}, or {1}"), {finding.change, asked.words});
    if (!broken.empty())
        finding.change = Sentence(
            worded("{0}; this alone would break another rule, on {1} (\"{2}\")"),
            {finding.change, Sentence::of_file(broken.front()->about), Sentence::of_file(broken.front()->says)});
}

void let_advice_agree(const RuleBook& book, const Facts& facts, const std::vector<std::size_t>& rules,
                      std::vector<Finding>& findings) {
    const auto sets = [](const Finding& finding, Adjustable what) {
        return !finding.advised.empty() && finding.advised.front().what == what;
    };
    std::set<Adjustable> done;
    for (const Finding& finding : std::vector(findings)) {
        if (finding.advised.empty() || !done.insert(finding.advised.front().what).second)
            continue;
        const Adjustable what = finding.advised.front().what;
        std::vector<std::size_t> alike;
        for (std::size_t k = 0; k < findings.size(); ++k)
            if (sets(findings[k], what))
                alike.push_back(k);
        const auto suits_all = [&](std::size_t with_advice_of) {
            const Trial trial = with(facts, {findings[with_advice_of].advised.front()});
            return std::ranges::all_of(alike, [&](std::size_t k) {
                return book.verdict(rules[k], trial.card, facts.shop, trial.section, trial.figures) == Verdict::pass;
            });
        };
        const auto common = std::ranges::find_if(alike, suits_all);
        if (alike.size() < 2 || common == alike.end())
            continue;
        const Setting rather = findings[*common].advised.front();
        for (const std::size_t k : alike)
            if (k != *common)
                advise(book, facts, rules[k], findings[k], rather);
    }
}

} // namespace holdtrue::arc
