// Which setting card a pass is welded with when the plan does not name one, and what has to be set anew for it.
#pragma once

#include "arc/setup_change.h"
#include "part/part.h"
#include "weld/plan.h"

#include <string>
#include <vector>

namespace holdtrue::weld {

// The groups a card may serve: "tacks", "plugs", and the name and card group of every joint.
std::vector<std::string> card_groups(const part::Part& part);

// Index into `cards`, or -1 when none serves the pass. A tack looks for "tacks" first; every pass then for its joint's
// name, then its joint's card group; a plug at last for "plugs".
int choose_card(const part::Part& part, int pass, const std::vector<arc::SettingCard>& cards);

// Between the card of the pass welded last before `move` and that of `move`. Nothing for the first pass, for which the
// power source is set before the clock runs, and for a move that does not weld.
arc::SetupChange setup_change_before(const Plan& plan, std::size_t move);

} // namespace holdtrue::weld
