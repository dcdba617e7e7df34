// The rule book: judges a setting card on a joint, rule by rule. One rule is an entry of assets/rules (its number and
// source) and an evaluator in code (what is compared, and the words for it), joined by the rule's id. The shipped book
// has an entry for every evaluator and none besides. A hand-out is judged by the book that it was packed with, which may
// come from another version of the program: rules that it leaves out are not judged, and entries that this program
// cannot judge are set aside in unjudged(), for whoever reads the book to tell.
//
//     const RuleBook book = RuleBook::read();
//     for (const Finding& finding : book.judge(card, shop, section_of(part, joint)))
//         if (finding.verdict != Verdict::pass) ...
//
// Reading is done once; judging changes nothing and may go on in many threads.
#pragma once

#include "arc/remedy.h"
#include "arc/rule.h"
#include "arc/setup_figures.h"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::arc {

enum class Verdict { pass, caution, fail };

struct Finding {
    std::string rule;  // id
    std::string about; // topic
    Verdict verdict = Verdict::pass;
    text::Sentence sentence; // what was found, for a trainee: "The current is 62 A, below 110 A: the bead lies on ..."
    text::Sentence measured; // "62 A"
    text::Sentence limit;    // "110 to 135 A"
    Remedy asked;            // what would cure it by the rule's own arithmetic; nothing for a pass
    text::Sentence change;   // what to change and by how much; empty for a pass
    // What `change` sets, where it names a value: with these put, the rule is met (judged anew, not estimated).
    std::vector<Setting> advised;
    std::optional<double> value, low, high; // SI, or as the rule's unit says when that has no dimension
    std::string unit;                       // of the rule
    std::string source;
    Mark mark = Mark::common_practice;
};

class RuleBook {
public:
    // Throws text::InputError (file, line) for an entry that is wrong, or that others build on and that is not there.
    static RuleBook read(const std::filesystem::path& rules_folder);
    static RuleBook read(); // the shipped one

    const std::vector<Rule>& rules() const { return rules_; }
    // Entries that no evaluator can judge: of an unknown id, or with other numbers than it compares with.
    const std::vector<Rule>& unjudged() const { return unjudged_; }
    const std::filesystem::path& folder() const { return folder_; } // that it was read from
    const Rule* find(std::string_view id) const;                    // null: no such rule

    // Findings in the order of the book, of the rules that apply. Card, wire and gas must be the shop's.
    std::vector<Finding> judge(const SettingCard& card, const Shop& shop, const Section& section,
                               units::System system = units::System::metric) const;
    std::vector<Finding> judge(const SettingCard& card, const Shop& shop, const Section& section,
                               const SetupFigures& figures, units::System system) const;

    // The same verdicts without words, for searches that judge thousands of settings.
    struct Judged {
        const Rule* rule;
        Verdict verdict;
    };
    std::vector<Judged> verdicts(const SettingCard& card, const Shop& shop, const Section& section,
                                 const SetupFigures& figures) const;
    // Of one rule, by its place in rules(); nullopt: it does not apply.
    std::optional<Verdict> verdict(std::size_t rule, const SettingCard& card, const Shop& shop, const Section& section,
                                   const SetupFigures& figures) const;

private:
    std::filesystem::path folder_;
    std::vector<Rule> rules_, unjudged_;
    std::vector<std::size_t> evaluator_of_; // index into all evaluators, one for each rule
};

// Ids of all evaluators, for the test that book and code agree.
std::vector<std::string> evaluator_ids();

Verdict worst(const std::vector<Finding>& findings);
const char* in_words(Verdict verdict);

} // namespace holdtrue::arc
