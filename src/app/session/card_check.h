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

    // The root of a square butt on sheet is meant to melt, only not too wide; a groove or a bar is judged by depth.
    bool root_is_sheet() const {
        return section.type == part::JointType::butt && !section.groove_angle_rad && !section.both_sides &&
               !section.backing;
    }
    double molten_through_m() const { return root_is_sheet() ? figures.members.full_depth_width_m : 0; }
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
