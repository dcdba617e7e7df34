// What a setting card does on a joint: figures and findings of the rule book, kept until card or joint change.
#pragma once

#include "arc/rule_book.h"
#include "part/part.h"

#include <optional>
#include <vector>

namespace holdtrue::app {

struct CardCheck {
    int joint = -1;
    arc::Section section;
    arc::SetupFigures figures;
    std::vector<arc::Finding> findings; // gravest first
};

// Joints a card serves by name or group; all of them for a card of tacks or plugs only.
std::vector<int> joints_of(const part::Part& part, const arc::SettingCard& card);

// A card and a joint of no exercise, on what the shop has: where the Check bench starts.
struct QuickCard {
    arc::SettingCard card;
    arc::Section section;
};
QuickCard usual_quick_card(const arc::Shop& shop);
// Whether two differ in volts, feed and travel at most.
bool same_task(const QuickCard& a, const QuickCard& b);

// Throws nothing: a card that cannot be judged (a wire the shop has not) gives no check.
std::optional<CardCheck> check_card(const arc::RuleBook& book, const arc::SettingCard& card, const arc::Shop& shop,
                                    const arc::Section& section, units::System system);

} // namespace holdtrue::app
