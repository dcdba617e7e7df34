// A welded pass as heat and distortion take it.
#pragma once

#include "arc/arc.h"
#include "distortion/evaluate.h"
#include "heat/weld_heat.h"
#include "weld/plan.h"

namespace holdtrue::weld {

heat::Arc arc_of(const WeldPass& weld, const arc::SettingCard& card, const arc::ArcFigures& figures);

// Without its temperatures and its end.
distortion::Step step_of(const WeldPass& weld, const arc::SettingCard& card, const arc::ArcFigures& figures,
                         double heat_j, double arc_s, double interpass_k);

} // namespace holdtrue::weld
