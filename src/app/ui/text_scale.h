// How large text may be.
#pragma once

#include <imgui.h>

namespace holdtrue::app {

inline constexpr double largest_scale = 2.5;

// The largest scale that leaves the benches the room they need in a window of that size, at least 1; in steps, for
// fonts are made anew with each.
double scale_with_room(ImVec2 window_px);

} // namespace holdtrue::app
