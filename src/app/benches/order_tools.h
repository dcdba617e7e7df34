// The right-hand side of the Order bench: what adds to the plan besides a click on a pass.
#pragma once

#include "app/benches/benches.h"

namespace holdtrue::app {

void draw_order_tools(Ui& ui, const Session& session, OrderState& state, Actions& out);

} // namespace holdtrue::app
