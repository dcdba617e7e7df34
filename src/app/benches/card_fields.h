// The fields of a setting card, each with unit and range; and what a card does on a joint, in figures and findings.
// Setup shows them for a plan's cards, Check for a card of its own.
#pragma once

#include "app/session/card_check.h"
#include "app/ui/ui.h"

#include <optional>
#include <string>

namespace holdtrue::app {

// Returns the name of the field that was changed, if one was.
std::optional<std::string> edit_card(Ui& ui, const arc::Shop& shop, arc::SettingCard& card);

void draw_figures(Ui& ui, const CardCheck& check);
void draw_findings(Ui& ui, const CardCheck& check);

} // namespace holdtrue::app
