// How near the eye comes so that the whole part is seen, clear of what lies over its picture. Metres, and pixels of the
// view from its upper left corner.
#pragma once

#include "app/scene/camera.h"

#include <vector>

namespace holdtrue::app::scene {

struct Rectangle {
    double left_px, top_px, right_px, bottom_px;
};
struct Frame {
    double width_px, height_px;
    std::vector<Rectangle> covered; // a legend, buttons
};

// Looks at the middle of the box from where all its corners are in the picture, with a margin, and shifts the picture
// so that nothing of the box is covered: as near as that allows, and then as little off the middle. Where so much is
// covered that not even a small box would be clear, it is fitted as if nothing were.
void fit(Camera& camera, const Box& box, const Frame& frame);

} // namespace holdtrue::app::scene
