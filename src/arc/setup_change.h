// What has to be set anew at the power source between two setting cards, and how long that takes. What the hand alone
// does (travel, tip distance, aim, torch motion) and preheat are not part of it.
#pragma once

#include "arc/shop.h"

#include <string>

namespace holdtrue::arc {

struct SetupChange {
    bool wire = false;  // another wire, process or polarity: roll, tip and leads
    bool gas = false;   // another gas: bottle or hose, and flushing
    bool dials = false; // volts, wire feed, current or gas flow
    bool any() const { return wire || gas || dials; }
    bool operator==(const SetupChange&) const = default;
};

SetupChange setup_change(const SettingCard& before, const SettingCard& after);

// Each part of a change takes the time that the shop gives for it (Shop::change_wire_s ...), one after the other [s].
double time_s(const SetupChange& change, const Shop& shop);

// "change wire and gas, set the dials"; empty for no change.
std::string text_of(const SetupChange& change);

} // namespace holdtrue::arc
