// How much there is to remember of an order, as somebody would say it: "from one end to the other, every second pass",
// "top and bottom by turns". A phrase is a stretch in which every pass follows by the same step from the one before it
// (or from the second, third or fourth before it: patterns that go round two, three or four places), in the same
// direction; saying a pattern costs as many words as it has places. Every turn, every wait and every change of settings has to be
// remembered too.
#pragma once

#include "order/order_space.h"

namespace holdtrue::order {

int count_phrases(const OrderSpace& space, const Order& order);

} // namespace holdtrue::order
