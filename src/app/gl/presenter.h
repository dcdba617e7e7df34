// Brings the window's picture to the screen: only some boxes of it where the window system can do that and does not
// wait for the screen anyway, which is so for software OpenGL under X11 (GLX_MESA_copy_sub_buffer); else all of it.
// Needs the window's OpenGL context current, on one thread.
#pragma once

#include "app/ui/damage.h"

#include <span>

struct GLFWwindow;

namespace holdtrue::app::gl {

class Presenter {
public:
    explicit Presenter(GLFWwindow* window);
    // Whether show() leaves what lies outside of its boxes as it was, in the window and on the screen.
    bool keeps_the_rest() const { return show_box_; }
    void show(std::span<const PixelBox> boxes, int height_px) const;

private:
    using ShowBox = void (*)(void* display, unsigned long window, int left, int bottom, int width, int height);
    GLFWwindow* window_;
    ShowBox show_box_ = nullptr;
    void* display_ = nullptr; // of X11
    unsigned long drawable_ = 0;
};

} // namespace holdtrue::app::gl
