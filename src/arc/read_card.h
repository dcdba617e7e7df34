// Reads one [[card]] of a .plan.toml. Volts and wire feed are given as such, or as dial marks of the shop's source.
#pragma once

#include "arc/setting_card.h"
#include "arc/shop.h"
#include "text/toml_reader.h"

namespace holdtrue::arc {

// Records what it finds wrong with the table itself; whether the shop can do it is check_card()'s to say.
SettingCard read_card(text::Table& table, const Shop& shop, const std::vector<std::string>& names_taken);

// What the shop cannot do: unknown wire or gas, wrong process, volts or feed out of range. file is left empty.
std::vector<text::Problem> check_card(const SettingCard& card, const Shop& shop);

} // namespace holdtrue::arc
