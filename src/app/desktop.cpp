#include "app/desktop.h"

#include "text/atomic_file.h"
#include "text/input_error.h"

#define GLFW_INCLUDE_NONE // glad declares OpenGL
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <glad/gl.h>
#include <imgui.h>
#include <stb_image_write.h>

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>

namespace holdtrue::app {

namespace {

Desktop& of(GLFWwindow* window) { return *static_cast<Desktop*>(glfwGetWindowUserPointer(window)); }

} // namespace

Desktop::Desktop(const std::function<WindowSize(WindowSize room)>& size) {
    if (!glfwInit())
        throw text::InputError("", 0, text::in_english("no window can be opened: there is no display"),
                               text::in_english("name a command instead, see 'holdtrue --help'"));
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_DEPTH_BITS, 24);
    glfwWindowHint(GLFW_STENCIL_BITS, 0);
    WindowSize room;
    if (GLFWmonitor* screen = glfwGetPrimaryMonitor())
        glfwGetMonitorWorkarea(screen, nullptr, nullptr, &room.width_px, &room.height_px);
    const WindowSize opened = size(room);
    window_ = glfwCreateWindow(opened.width_px, opened.height_px, "Holdtrue", nullptr, nullptr);
    if (!window_) {
        glfwTerminate();
        throw text::InputError("", 0, text::in_english("no window can be opened: OpenGL 3.3 is missing"),
                               text::in_english("install a graphics driver (libgl1-mesa-dri does it in software)"));
    }
    glfwMakeContextCurrent(window_);
    gladLoadGL(glfwGetProcAddress);
    glfwSwapInterval(1);
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    ImGui_ImplGlfw_InitForOpenGL(window_, true);
    io.KeyMap[ImGuiKey_Tab] = -1; // the keyboard's frame is carried by ui/keyboard_frame.h
    ImGui_ImplOpenGL3_Init("#version 330 core");
    painter_ = std::make_unique<gl::GlPainter>();
    presenter_ = std::make_unique<gl::Presenter>(window_);
    canvas_ = std::make_unique<gl::Canvas>(presenter_->keeps_the_rest());
    listen();
}

// Keys and buttons come to the widgets through a queue, in place of straight away.
void Desktop::listen() {
    glfwSetWindowUserPointer(window_, this);
    glfwSetKeyCallback(window_, [](GLFWwindow* window, int key, int scancode, int action, int modifiers) {
        of(window).input_.add(KeyEvent{key, scancode, action, modifiers});
    });
    glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned int code_point) {
        of(window).input_.add(CharacterEvent{code_point});
    });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int) {
        Desktop& desktop = of(window);
        desktop.input_.add(ButtonEvent{button, action == GLFW_PRESS, desktop.pointer_x_, desktop.pointer_y_});
    });
    glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double x, double y) {
        Desktop& desktop = of(window);
        desktop.pointer_x_ = static_cast<float>(x);
        desktop.pointer_y_ = static_cast<float>(y);
        desktop.news_ = true;
    });
    glfwSetScrollCallback(window_, [](GLFWwindow* window, double x, double y) {
        ImGui_ImplGlfw_ScrollCallback(window, x, y);
        of(window).news_ = true;
    });
    glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int focused) {
        ImGui_ImplGlfw_WindowFocusCallback(window, focused);
        of(window).news_ = true;
    });
    glfwSetCursorEnterCallback(window_, [](GLFWwindow* window, int entered) {
        ImGui_ImplGlfw_CursorEnterCallback(window, entered);
        of(window).news_ = true;
    });
    glfwSetWindowRefreshCallback(window_, [](GLFWwindow* window) {
        of(window).draw_all_again(); // the screen has lost it
        of(window).news_ = true;
    });
    glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** files) {
        of(window).dropped_.insert(of(window).dropped_.end(), files, files + count);
        of(window).news_ = true;
    });
}

Desktop::~Desktop() {
    canvas_.reset();
    painter_.reset();
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
    glfwDestroyWindow(window_);
    glfwTerminate();
}

double Desktop::screen_scale() const {
    float x = 1, y = 1;
    glfwGetWindowContentScale(window_, &x, &y);
    return std::clamp(double(std::max(x, y)), 1.0, 2.5);
}

WindowSize Desktop::window_size() const {
    WindowSize size;
    glfwGetWindowSize(window_, &size.width_px, &size.height_px);
    return size;
}

bool Desktop::wants_to_close() {
    const bool wants = glfwWindowShouldClose(window_);
    glfwSetWindowShouldClose(window_, GLFW_FALSE);
    return wants;
}

std::vector<std::filesystem::path> Desktop::take_dropped() { return std::exchange(dropped_, {}); }

void Desktop::poll() { glfwPollEvents(); }
void Desktop::wait(double at_most_s) { glfwWaitEventsTimeout(at_most_s); }
void Desktop::wake() { glfwPostEmptyEvent(); }

void Desktop::load_fonts_texture() {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
    draw_all_again();
}

void Desktop::begin_frame() {
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    ImGuiIO& io = ImGui::GetIO();
    input_.feed([&](const InputEvent& event) {
        if (const auto* key = std::get_if<KeyEvent>(&event))
            ImGui_ImplGlfw_KeyCallback(window_, key->key, key->scancode, key->action, key->modifiers);
        else if (const auto* character = std::get_if<CharacterEvent>(&event))
            ImGui_ImplGlfw_CharCallback(window_, character->code_point);
        else if (const auto& button = std::get<ButtonEvent>(event); button.button < std::ssize(buttons_down_)) {
            buttons_down_[static_cast<std::size_t>(button.button)] = button.down;
            io.MousePos = {button.x, button.y};
        }
    });
    std::ranges::copy(buttons_down_, std::begin(io.MouseDown));
    // As they were at these events: the library asks how they are by now, when a quick chord is over.
    io.KeyCtrl = io.KeysDown[GLFW_KEY_LEFT_CONTROL] || io.KeysDown[GLFW_KEY_RIGHT_CONTROL];
    io.KeyShift = io.KeysDown[GLFW_KEY_LEFT_SHIFT] || io.KeysDown[GLFW_KEY_RIGHT_SHIFT];
    io.KeyAlt = io.KeysDown[GLFW_KEY_LEFT_ALT] || io.KeysDown[GLFW_KEY_RIGHT_ALT];
}

unsigned Desktop::draw(unsigned ground) {
    ImDrawData& data = *ImGui::GetDrawData();
    const int width_px = static_cast<int>(data.DisplaySize.x * data.FramebufferScale.x);
    const int height_px = static_cast<int>(data.DisplaySize.y * data.FramebufferScale.y);
    if (width_px <= 0 || height_px <= 0) // minimised
        return 0;
    if (canvas_->resize(width_px, height_px) || std::exchange(ground_, ground) != ground)
        draw_all_again();
    damaged_ = damage_.since_last(data, painter_->take_repainted());
    restrict_to(damaged_, data);
    canvas_->clear(damaged_, ImGui::ColorConvertU32ToFloat4(ground));
    ImGui_ImplOpenGL3_RenderDrawData(&data);
    canvas_->finish();
    return glGetError();
}

void Desktop::show() { presenter_->show(std::exchange(damaged_, {}), canvas_->height_px()); }

void Desktop::save_picture(const std::filesystem::path& file) const {
    int width = 0, height = 0;
    glfwGetFramebufferSize(window_, &width, &height);
    std::vector<std::uint8_t> pixels(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadBuffer(GL_BACK);
    glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, pixels.data());
    stbi_flip_vertically_on_write(1);
    std::string png;
    stbi_write_png_to_func(
        [](void* to, void* data, int size) {
            static_cast<std::string*>(to)->append(static_cast<const char*>(data), static_cast<std::size_t>(size));
        },
        &png, width, height, 3, pixels.data(), width * 3);
    text::write_atomically(file, png);
}

} // namespace holdtrue::app
