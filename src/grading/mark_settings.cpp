#include "arc/rule_book.h"
#include "arc/whole_card.h"
#include "grading/aspects.h"

#include <algorithm>
#include <deque>
#include <map>
#include <optional>

namespace holdtrue::grading {
namespace {

constexpr double caution_cost = 0.15, fail_cost = 0.5; // of one use of a card

// One card on one joint, for tacks, runs or plugs.
struct Use {
    int card = 0, joint = 0;
    part::PassKind kind = part::PassKind::run;
    int first_move = 0, passes = 0;
};

std::vector<Use> find_uses(const Marking& marking) {
    std::vector<Use> uses;
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k) {
        const auto* weld = std::get_if<weld::WeldPass>(&marking.outcome.plan.moves[k].what);
        if (!weld)
            continue;
        const part::Pass& pass = marking.part().passes[static_cast<std::size_t>(weld->pass)];
        const auto same = std::ranges::find_if(uses, [&](const Use& use) {
            return use.card == weld->card && use.joint == pass.joint && use.kind == pass.kind;
        });
        if (same == uses.end())
            uses.push_back({weld->card, pass.joint, pass.kind, static_cast<int>(k), 1});
        else
            ++same->passes;
    }
    return uses;
}

// Judges each card once on each kind of section: most joints of a part are alike, and findings with tried advice take
// time.
class Judge {
public:
    explicit Judge(const Marking& marking) : marking_(marking) {}

    const arc::SettingCard& card_of(const Use& use) const {
        return marking_.outcome.plan.cards[static_cast<std::size_t>(use.card)];
    }

    arc::Section section_of(const Use& use) const {
        const part::Joint& joint = marking_.part().joints[static_cast<std::size_t>(use.joint)];
        arc::Section section = arc::section_of(marking_.part(), joint);
        section.kind = use.kind;
        section.start_k = std::max(marking_.part().ambient_k, card_of(use).preheat_k);
        return section;
    }

    const std::vector<arc::Finding>& findings(const Use& use) {
        const arc::SettingCard& card = card_of(use);
        const arc::Section section = section_of(use);
        for (const Judged& judged : judged_)
            if (judged.card == use.card && judged.section == section)
                return judged.findings;
        return judged_
            .emplace_back(use.card, section,
                          marking_.exercise.rules->judge(card, *marking_.outcome.shop, section, marking_.system))
            .findings;
    }

private:
    struct Judged {
        int card;
        arc::Section section;
        std::vector<arc::Finding> findings;
    };
    const Marking& marking_;
    std::deque<Judged> judged_; // stays in place as it grows
};

// Advice on whole cards, for those whose findings, each followed by itself, would not add up to a card that keeps the
// rules.
class WholeCards {
public:
    WholeCards(const Marking& marking, Judge& judge, const std::vector<Use>& uses) : marking_(marking), judge_(judge) {
        for (const Use& use : uses)
            uses_of_[use.card].push_back(use);
    }

    // In place of what the finding advises; empty: that will do, or no better is known.
    Sentence advice(const Use& use, const arc::Finding& finding) {
        auto found = advised_.find(use.card);
        if (found == advised_.end())
            found = advised_.emplace(use.card, find(uses_of_.at(use.card))).first;
        if (!found->second)
            return {};
        const arc::SettingCard& card = found->second->card;
        const arc::Section section = judge_.section_of(use);
        for (const arc::RuleBook::Judged& judged :
             marking_.exercise.rules->verdicts(card, shop(), section, arc::setup_figures(card, shop(), section)))
            if (judged.rule->id == finding.rule && judged.verdict != arc::Verdict::pass)
                return {};
        return {worded("All at once: {0}. One dial alone would break another rule"),
                {arc::changes_in_words(judge_.card_of(use), card, shop(), section, marking_.system)}};
    }

private:
    const arc::Shop& shop() const { return *marking_.outcome.shop; }

    std::optional<arc::WholeCard> find(const std::vector<Use>& uses) {
        arc::SettingCard followed = judge_.card_of(uses.front());
        std::vector<arc::Section> sections;
        bool any = false, all_advised = true;
        for (const Use& use : uses) {
            arc::Section section = judge_.section_of(use);
            for (const arc::Finding& finding : judge_.findings(use)) {
                any |= finding.verdict != arc::Verdict::pass;
                all_advised &= finding.verdict == arc::Verdict::pass || !finding.advised.empty();
                for (const arc::Setting& setting : finding.advised)
                    arc::put(setting, followed, section);
            }
            sections.push_back(judge_.section_of(use));
        }
        if (!any || (all_advised && keeps_the_rules(followed, sections)))
            return std::nullopt;
        return arc::whole_card(*marking_.exercise.rules, judge_.card_of(uses.front()), shop(), sections,
                               marking_.system);
    }

    bool keeps_the_rules(const arc::SettingCard& card, const std::vector<arc::Section>& sections) const {
        return std::ranges::all_of(sections, [&](const arc::Section& section) {
            return std::ranges::all_of(
                marking_.exercise.rules->verdicts(card, shop(), section, arc::setup_figures(card, shop(), section)),
                [](const arc::RuleBook::Judged& judged) { return judged.verdict == arc::Verdict::pass; });
        });
    }

    const Marking& marking_;
    Judge& judge_;
    std::map<int, std::vector<Use>> uses_of_; // by card
    std::map<int, std::optional<arc::WholeCard>> advised_;
};

Sentence name_of_use(const Marking& marking, const Use& use) {
    return {use.kind == part::PassKind::tack   ? worded("tacks of '{0}'")
            : use.kind == part::PassKind::plug ? worded("plugs of '{0}'")
                                               : worded("runs of '{0}'"),
            {marking.part().joints[static_cast<std::size_t>(use.joint)].name}};
}

// Remarks that say the same of several uses of a card become one that names them all.
void merge_alike(std::vector<Remark>& remarks) {
    std::vector<Remark> merged;
    for (Remark& remark : remarks) {
        const auto alike = std::ranges::find_if(merged, [&](const Remark& other) {
            return other.card == remark.card && other.topic == remark.topic && other.measured == remark.measured &&
                   other.limit == remark.limit && other.try_this == remark.try_this;
        });
        if (alike == merged.end()) {
            merged.push_back(std::move(remark));
            continue;
        }
        alike->points_lost += remark.points_lost;
        // The uses stand last.
        Sentence& uses = alike->chosen.parts.back();
        uses = Sentence(worded("{0}, {1}"), {uses, remark.chosen.parts.back()});
    }
    remarks = std::move(merged);
}

Remark remark_on(const Marking& marking, const Use& use, const arc::Finding& finding) {
    Remark remark;
    remark.card = use.card;
    remark.move = use.first_move;
    remark.verdict = finding.verdict == arc::Verdict::fail ? Verdict::fail : Verdict::caution;
    remark.rule = finding.rule;
    remark.topic =
        Sentence(worded("{0}: {1}"), {Sentence::of_file(finding.about), rule_words(marking.exercise, finding.rule)});
    remark.chosen = Sentence(worded("card '{0}', {1}: {2}"),
                             {Sentence::of_file(marking.outcome.plan.cards[static_cast<std::size_t>(use.card)].name),
                              Sentence::of_file(finding.about), name_of_use(marking, use)});
    remark.measured = finding.measured;
    remark.limit = finding.limit;
    remark.source = Sentence::of_file(finding.source);
    if (finding.mark == arc::Mark::common_practice)
        remark.source = Sentence(worded("{0}, common practice"), {remark.source});
    remark.consequence = finding.sentence;
    remark.try_this = finding.change;
    remark.must_be_met = remark.verdict == Verdict::fail && rule_must_be_met(marking.exercise, finding.rule);
    return remark;
}

} // namespace

AspectMark mark_settings(const Marking& marking, std::set<std::string>& failed_rules) {
    AspectMark result;
    const std::vector<Use> uses = find_uses(marking);
    Judge judge(marking);
    WholeCards whole_cards(marking, judge, uses);
    for (const Use& use : uses) {
        const double worth = 1 / static_cast<double>(uses.size());
        std::vector<Remark> remarks;
        double cost = 0;
        std::size_t rules = 0;
        for (const arc::Finding& finding : judge.findings(use)) {
            ++rules;
            if (finding.verdict == arc::Verdict::pass)
                continue;
            const bool failed = finding.verdict == arc::Verdict::fail;
            if (failed)
                failed_rules.insert(finding.rule);
            Remark remark = remark_on(marking, use, finding);
            if (marking.advice == Advice::whole_cards)
                if (Sentence whole = whole_cards.advice(use, finding); !whole.empty())
                    remark.try_this = std::move(whole);
            remark.points_lost = failed ? fail_cost : caution_cost;
            cost += remark.points_lost;
            remarks.push_back(std::move(remark));
        }
        if (remarks.empty()) {
            Remark right;
            right.card = use.card;
            right.move = use.first_move;
            right.topic = worded("settings");
            right.chosen =
                Sentence(worded("card '{0}': {1}"),
                         {Sentence::of_file(marking.outcome.plan.cards[static_cast<std::size_t>(use.card)].name),
                          name_of_use(marking, use)});
            right.measured = Sentence(worded("all {0} rules that apply are met"), {std::to_string(rules)});
            right.source = worded("rule book");
            remarks.push_back(std::move(right));
        }
        // A use cannot cost more than it is worth.
        const double scale = cost > 1 ? 1 / cost : 1;
        for (Remark& remark : remarks) {
            remark.points_lost *= scale * worth;
            result.remarks.push_back(std::move(remark));
        }
        result.credit -= worth * std::min(1.0, cost);
    }
    merge_alike(result.remarks);
    result.credit = std::max(0.0, result.credit);
    return result;
}

} // namespace holdtrue::grading
