#include "app/ui/text_scale.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::app {

double scale_with_room(ImVec2 window_px) {
    constexpr double width_px = 1040, height_px = 650, step = 0.05; // at scale one
    if (window_px.x <= 0 || window_px.y <= 0)                       // before the first frame
        return largest_scale;
    const double most = std::min(double(window_px.x) / width_px, double(window_px.y) / height_px);
    return std::clamp(std::floor(most / step) * step, 1.0, largest_scale);
}

} // namespace holdtrue::app
