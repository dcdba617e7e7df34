// A plan to start from: one middling card for everything, every tack and then every pass in the order of the part
// file, with no more turns than that needs. It can be carried out; it is not a good plan.
#pragma once

#include "arc/shop.h"
#include "part/part.h"
#include "weld/plan.h"

namespace holdtrue::weld {

// The shop has at least one power source and one wire, as its reader makes sure.
Plan starting_plan(const part::Part& part, const arc::Shop& shop);

} // namespace holdtrue::weld
