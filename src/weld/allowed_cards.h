// Which settings the rules allow where a card is used: one card serves all joints of its groups.
#pragma once

#include "arc/rule_book.h"
#include "arc/shop.h"
#include "part/part.h"

#include <string>
#include <vector>

namespace holdtrue::weld {

// The joints of these card groups, each as the rules see it; alike ones once.
std::vector<arc::Section> sections_of(const part::Part& part, const std::vector<std::string>& groups);

bool breaks_a_rule(const arc::RuleBook& rules, const arc::SettingCard& card, const arc::Shop& shop,
                   const std::vector<arc::Section>& sections);

// The card as it is set and written: 0.1 V, 0.1 m/min, 5 mm/min, and what the power source can be set to.
arc::SettingCard as_set(arc::SettingCard card, const arc::Shop& shop);

// Settings for the card groups of a card, as proposed_plan() writes them, with its process and any wire and gas of the
// shop that go with it: on none of the joints a rule fails, and all joints together show no more cautions than with
// `like` (where that fails itself, than the fewest there are). The grid is that of arc/propose.h, as it is set. Of
// settings that are alike to the part (heat and metal laid within 6 %, travel within 12 %: less than the hand keeps)
// the one that the rules like best stands for all. Least heat per length first.
std::vector<arc::SettingCard> allowed_cards(const part::Part& part, const arc::Shop& shop, const arc::RuleBook& rules,
                                            const arc::SettingCard& like);

} // namespace holdtrue::weld
