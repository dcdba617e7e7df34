// Writes a plan as a .plan.toml that reads back as the same plan.
#pragma once

#include "part/part.h"
#include "weld/plan.h"

#include <string>

namespace holdtrue::weld {

// Passes of one card and direction that follow each other become one move. Every number is written so that it reads
// back as the same double; lines of moves and cards are those of the new text. All indices must be valid.
std::string plan_toml(const Plan& plan, const part::Part& part);

// Saves atomically; throws text::InputError where the file cannot be written. `plan.exercise` is written as it is.
void save_plan(const Plan& plan, const part::Part& part, const std::filesystem::path& path);

} // namespace holdtrue::weld
