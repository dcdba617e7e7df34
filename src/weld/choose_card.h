// Which setting card a pass is welded with when the plan does not name one.
#pragma once

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

} // namespace holdtrue::weld
