// Small random changes to an order, after which it is valid again.
#pragma once

#include "order/order_space.h"

namespace holdtrue::order {

// One of: two passes change places, a pass or a stretch of passes moves elsewhere, a stretch is turned round, a pass
// changes direction, of a stretch the passes that need no turn (or no other settings) come first, a wait comes or goes,
// the clamps come off at another time.
void change(Order& order, const OrderSpace& space, Random& random);

} // namespace holdtrue::order
