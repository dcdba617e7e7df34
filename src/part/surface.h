// The exact mid-surface of a panel, before it is cut into cells: segment k of the profile (from its point k to point
// k + 1; a closed profile has one more, back to the start) and the place on it, s along the profile and t from
// profile_a to profile_b, both 0 to 1. Cut-outs are not taken into account.
#pragma once

#include "part/quad.h"

namespace holdtrue::part {

struct SurfacePlace {
    int segment = 0;
    double s = 0, t = 0;
    Point position{0, 0, 0};
    double distance_m = 0; // from the asked point
};

int segment_count(const Panel& panel);
Quad segment_quad(const Panel& panel, int segment);
SurfacePlace nearest_place(const Panel& panel, const Point& point);
// Unit normal, u along the profile cross v from a to b; zero where the segment has no area.
Point surface_normal(const Panel& panel, const SurfacePlace& place);
double panel_area_m2(const Panel& panel); // without its cut-outs taken away

} // namespace holdtrue::part
