#include "app/window.h"

#include <GLFW/glfw3.h>

#include <cstdio>

namespace holdtrue::app {

int run_window(const command_line::WindowRequest& request) {
    if (!glfwInit()) {
        std::fprintf(stderr,
                     "no window can be opened: there is no display; name a command instead, see 'holdtrue --help'\n");
        return 2;
    }
    GLFWwindow* window = glfwCreateWindow(request.width, request.height, "Holdtrue", nullptr, nullptr);
    while (window && !glfwWindowShouldClose(window))
        glfwWaitEvents();
    glfwTerminate();
    return window ? 0 : 2;
}

} // namespace holdtrue::app
