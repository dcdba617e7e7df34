// What `holdtrue setup` is asked: flags as written, and the card, shop and section they make.
#pragma once

#include "arc/propose.h"
#include "command_line/setup_flags.h"

namespace holdtrue::command_line {

struct SetupRequest {
    units::System system = units::System::metric;
    arc::SettingCard card;
    arc::Shop shop;
    bool shop_given = false;
    arc::Section section;
    arc::OpenFields open;                                       // what was left out
    bool wire_open = false, gas_open = false, tip_open = false; // chosen by the program
    bool any_open() const { return open.volts || open.drive || open.travel; }
};
// Throws text::InputError with one line for each thing that is wrong or contradicts another.
SetupRequest read_request(const SetupFlags& flags);

} // namespace holdtrue::command_line
