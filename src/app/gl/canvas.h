// The window's picture with its depths, kept from frame to frame, so that a frame paints only what has changed. The
// window itself forgets its pixels when they are shown.
// Needs a current OpenGL 3.3 context from construction to destruction, on one thread.
#pragma once

#include "app/gl/shader.h"
#include "app/ui/damage.h"

#include <span>

namespace holdtrue::app::gl {

class Canvas {
public:
    Canvas();
    ~Canvas();
    Canvas(const Canvas&) = delete;
    Canvas& operator=(const Canvas&) = delete;

    bool resize(int width_px, int height_px); // whether the picture is lost by it
    // What is painted from here on goes into the canvas, where the boxes have the colour.
    void clear(std::span<const PixelBox> boxes, const ImVec4& colour);
    void copy_into_window(); // which is then what is painted into

private:
    Shader copy_shader_;
    unsigned framebuffer_ = 0, colour_ = 0, depth_ = 0, copy_array_ = 0;
    int width_px_ = 0, height_px_ = 0;
};

} // namespace holdtrue::app::gl
