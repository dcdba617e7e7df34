// The window's picture with its depths, kept from frame to frame, so that a frame paints only what has changed: in the
// window itself where that keeps its pixels when they are shown, else beside it.
// Needs a current OpenGL 3.3 context from construction to destruction, on one thread.
#pragma once

#include "app/ui/damage.h"

#include <span>

namespace holdtrue::app::gl {

class Canvas {
public:
    explicit Canvas(bool in_window);
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    int height_px() const { return height_px_; }
    bool resize(int width_px, int height_px); // whether the picture is lost by it
    // What is painted from here on goes into the canvas, where the boxes have the colour.
    void clear(std::span<const PixelBox> boxes, const ImVec4& colour);
    void finish(); // the window holds the picture, and is what is painted into

private:
    unsigned framebuffer_ = 0, colour_ = 0, depth_ = 0; // 0: in the window
    int width_px_ = 0, height_px_ = 0;
};

} // namespace holdtrue::app::gl
