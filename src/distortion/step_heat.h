// The heat of a job's steps, as the part feels it.
#pragma once

#include "distortion/condensed_part.h"
#include "distortion/response.h"
#include "distortion/strip_metal.h"

namespace holdtrue::distortion {

// temperature_k: node_count values at the end of the step.
StepHeat step_heat(const PartModel& model, std::span<const float> temperature_k, const StripMetal& metal);

// Works out of_rows of many steps at once: one product of matrices instead of one of a vector for each.
void condense_heat(const CondensedPart& part, std::span<StepHeat> steps);

} // namespace holdtrue::distortion
