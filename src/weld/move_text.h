// A move of a plan in English words, without its card:
//   "seam_top/3, backwards"; "wait at least 2 min 00 s and until below 60 °C"; "turn to 'underside'"; "free clamp
//   'tip'"
#pragma once

#include "part/part.h"
#include "units/quantity_text.h"
#include "weld/plan.h"

namespace holdtrue::weld {

std::string move_text(const part::Part& part, const Move& move, units::System system);

} // namespace holdtrue::weld
