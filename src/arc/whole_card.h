// Advice on a setting card as a whole. A finding's own advice changes one dial; where a card is far off, what cures one
// rule breaks the next, and a person who turns one dial after the other runs in circles.
#pragma once

#include "arc/rule_book.h"

#include <optional>
#include <vector>

namespace holdtrue::arc {

// Verdicts on a card wherever it is used.
struct Tally {
    int fails = 0, cautions = 0;
};
Tally tally(const RuleBook& book, const SettingCard& card, const Shop& shop, const std::vector<Section>& sections);

struct WholeCard {
    SettingCard card;
    int cautions = 0; // rules that are still not quite met, over all sections; none fails
};
// A card with which no rule fails on any of the sections it welds, by arc/propose.h, and fewest cautions are left. As
// much is left as it is as can be: tip distance and aim are changed only where a caution would be left otherwise, wire
// and gas only where a rule would fail.
// Volts and feed are such as the shop's source can be set to. nullopt: none was found.
std::optional<WholeCard> whole_card(const RuleBook& book, const SettingCard& card, const Shop& shop,
                                    const std::vector<Section>& sections, units::System system);

// "take wire 'solid_10', raise the wire feed from 5.2 to 6.4 m/min (dial mark 45), lower ..."; empty: no difference.
text::Sentence changes_in_words(const SettingCard& from, const SettingCard& to, const Shop& shop,
                                const Section& section, units::System system);

} // namespace holdtrue::arc
