// Lines with a width in pixels: outlines, beads, gauges. They carry no GL; gl/ turns each segment into a strip that
// faces the eye.
#pragma once

#include "app/scene/camera.h"

#include <cstdint>
#include <span>
#include <vector>

namespace holdtrue::app::scene {

using Colour = std::uint32_t; // 0xAABBGGRR, as widgets and textures have it

struct Segment {
    Eigen::Vector3f a, b;
    Colour colour = 0xff000000;
    float width_px = 1;
    float lift = 0; // drawn nearer to the eye by this share of its distance: keeps beads out of the sheet

    bool operator==(const Segment&) const = default;
};

// Points between which the line is straight, to a tenth of a pixel where a metre fills a window, are left out.
void add_polyline(std::vector<Segment>& lines, std::span<const Eigen::Vector3d> points, Colour colour, float width_px,
                  float lift = 0);

} // namespace holdtrue::app::scene
