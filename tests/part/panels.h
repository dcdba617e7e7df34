// Parts made in code for tests: a flat plate, a tapered channel, a round tube.
#pragma once

#include "part/part.h"

#include <cmath>
#include <numbers>

namespace holdtrue::part::test {

inline Panel plate(double length_m, double width_m, double thickness_m) {
    Panel panel;
    panel.name = "plate";
    panel.profile_a = {{0, 0, 0}, {length_m, 0, 0}};
    panel.profile_b = {{0, width_m, 0}, {length_m, width_m, 0}};
    panel.thickness_m = thickness_m;
    return panel;
}

// Web at y = 0, flanges to y = depth; height_a high at x = 0, height_b at x = length.
inline Panel channel(double length_m, double height_a, double height_b, double depth_m) {
    const auto section = [&](double x, double height) {
        return std::vector<Point>{
            {x, depth_m, height / 2}, {x, 0, height / 2}, {x, 0, -height / 2}, {x, depth_m, -height / 2}};
    };
    Panel panel;
    panel.name = "channel";
    panel.kind = PanelKind::channel;
    panel.profile_a = section(0, height_a);
    panel.profile_b = section(length_m, height_b);
    panel.thickness_m = 0.003;
    return panel;
}

inline Panel tube(double radius_m, double length_m, int sides) {
    Panel panel;
    panel.name = "tube";
    panel.kind = PanelKind::tube;
    panel.closed = true;
    panel.thickness_m = 0.008;
    for (int k = 0; k < sides; ++k) {
        const double angle = 2 * std::numbers::pi * k / sides;
        panel.profile_a.emplace_back(radius_m * std::cos(angle), radius_m * std::sin(angle), 0);
        panel.profile_b.emplace_back(radius_m * std::cos(angle), radius_m * std::sin(angle), length_m);
    }
    return panel;
}

inline Part part_of(std::vector<Panel> panels, double element_m = 0.010) {
    Part part;
    part.name = "test";
    part.element_m = element_m;
    part.panels = std::move(panels);
    part.poses = {{"as_drawn", {0, 0, 1}, 0}};
    return part;
}

} // namespace holdtrue::part::test
