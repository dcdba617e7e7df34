#include "app/gl/presenter.h"

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>

#include <algorithm>
#include <array>

namespace holdtrue::app::gl {

namespace {

bool has(const char* extension) { return glfwExtensionSupported(extension) == GLFW_TRUE; }

template <class Function>
Function function(const char* name) {
    return reinterpret_cast<Function>(glfwGetProcAddress(name));
}

} // namespace

Presenter::Presenter(GLFWwindow* window) : window_(window) {
    constexpr std::array waiting{"GLX_EXT_swap_control", "GLX_MESA_swap_control", "GLX_SGI_swap_control"};
    if (!has("GLX_MESA_copy_sub_buffer") || std::ranges::any_of(waiting, has))
        return;
    display_ = function<void* (*)()>("glXGetCurrentDisplay")();
    drawable_ = function<unsigned long (*)()>("glXGetCurrentDrawable")();
    show_box_ = function<ShowBox>("glXCopySubBufferMESA");
}

void Presenter::show(std::span<const PixelBox> boxes, int height_px) const {
    if (!show_box_)
        return glfwSwapBuffers(window_);
    for (const PixelBox& box : boxes)
        show_box_(display_, drawable_, box.left, height_px - box.bottom, box.right - box.left, box.bottom - box.top);
}

} // namespace holdtrue::app::gl
