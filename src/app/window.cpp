#include "app/window.h"

#include "app/gl/gl_painter.h"
#include "app/script.h"
#include "app/shell.h"
#include "text/assets.h"
#include "text/atomic_file.h"

#define GLFW_INCLUDE_NONE // glad declares OpenGL
#include <GLFW/glfw3.h>
#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>
#include <glad/gl.h>
#include <imgui.h>
#include <stb_image_write.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>

namespace holdtrue::app {

namespace {

namespace fs = std::filesystem;

// The window system and what hangs on it, in order of construction; torn down in reverse.
class Desktop {
public:
    explicit Desktop(const command_line::WindowRequest& request) {
        if (!glfwInit())
            throw text::InputError("", 0, "no window can be opened: there is no display",
                                   "name a command instead, see 'holdtrue --help'");
        glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
        glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
        glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
        glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
        glfwWindowHint(GLFW_DEPTH_BITS, 24);
        glfwWindowHint(GLFW_STENCIL_BITS, 0);
        window_ = glfwCreateWindow(request.width, request.height, "Holdtrue", nullptr, nullptr);
        if (!window_) {
            glfwTerminate();
            throw text::InputError("", 0, "no window can be opened: OpenGL 3.3 is missing",
                                   "install a graphics driver (libgl1-mesa-dri does it in software)");
        }
        glfwMakeContextCurrent(window_);
        gladLoadGL(glfwGetProcAddress);
        glfwSwapInterval(1);
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.IniFilename = nullptr;
        io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
        ImGui_ImplGlfw_InitForOpenGL(window_, true);
        ImGui_ImplOpenGL3_Init("#version 330 core");
        painter_ = std::make_unique<gl::GlPainter>();
    }
    ~Desktop() {
        painter_.reset();
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
        ImGui::DestroyContext();
        glfwDestroyWindow(window_);
        glfwTerminate();
    }
    Desktop(const Desktop&) = delete;
    Desktop& operator=(const Desktop&) = delete;

    GLFWwindow* window() const { return window_; }
    Painter& painter() { return *painter_; }
    double screen_scale() const {
        float x = 1, y = 1;
        glfwGetWindowContentScale(window_, &x, &y);
        return std::clamp(double(std::max(x, y)), 1.0, 2.5);
    }

private:
    GLFWwindow* window_ = nullptr;
    std::unique_ptr<gl::GlPainter> painter_;
};

void save_screenshot(GLFWwindow* window, const fs::path& file) {
    int width = 0, height = 0;
    glfwGetFramebufferSize(window, &width, &height);
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

// One run of the window: the loop, and what it must remember between frames.
class Run {
public:
    explicit Run(const command_line::WindowRequest& request)
        : request_(request), desktop_(request), session_(usual_places(), [] { glfwPostEmptyEvent(); }) {
        glfwSetWindowUserPointer(desktop_.window(), this);
        glfwSetDropCallback(desktop_.window(), [](GLFWwindow* window, int count, const char** files) {
            auto& run = *static_cast<Run*>(glfwGetWindowUserPointer(window));
            for (int k = 0; k < count; ++k)
                run.actions_.push_back(act::Open{files[k]});
        });
        if (request.script)
            script_.emplace(*request.script);
        if (request.open)
            session_.apply(act::Open{*request.open});
    }

    int loop() {
        while (!session_.should_close()) {
            wait_for_something();
            if (glfwWindowShouldClose(desktop_.window())) {
                glfwSetWindowShouldClose(desktop_.window(), GLFW_FALSE);
                actions_.push_back(act::Quit{});
            }
            bool script_done = true;
            std::optional<fs::path> wanted_screenshot;
            if (script_) {
                // A finished simulation must be on the bench before the script looks at it.
                session_.take_finished();
                script_done = !script_->step(session_, placed_, [&](const fs::path& file) { wanted_screenshot = file; });
                if (script_done && request_.screenshot)
                    wanted_screenshot = request_.screenshot;
            } else if (request_.screenshot && frames_ > 3 && !session_.worker().busy())
                wanted_screenshot = request_.screenshot;
            draw_frame(wanted_screenshot);
            if (request_.screenshot && wanted_screenshot == request_.screenshot)
                return 0;
            if (script_ && script_done) {
                kept_places_ = script_->kept_places();
                frames_to_draw_ = 2; // what was kept is written with a frame
                script_.reset();
            }
        }
        return 0;
    }

private:
    // Draws when there is a reason to; otherwise sleeps until the next event.
    void wait_for_something() {
        constexpr int settling_frames = 3; // widgets react to an event over a few frames
        if (script_ || request_.screenshot || session_.playing() || frames_to_draw_ > 0) {
            glfwPollEvents();
            frames_to_draw_ = std::max(frames_to_draw_ - 1, 0);
            return;
        }
        session_.rest();
        if (session_.worker().busy_with_weld())
            glfwWaitEventsTimeout(0.1); // the progress goes on
        else if (frames_ > 0 && ImGui::GetIO().WantTextInput)
            glfwWaitEventsTimeout(0.4); // the caret blinks
        else
            glfwWaitEvents();
        frames_to_draw_ = settling_frames;
    }

    void prepare_look() {
        const Preferences& preferences = session_.preferences();
        const double wanted = request_.scale > 0 ? request_.scale : preferences.scale;
        const double scale = wanted > 0 ? wanted : desktop_.screen_scale();
        if (scale != scale_) {
            scale_ = scale;
            fonts_ = load_fonts(*ImGui::GetIO().Fonts, scale);
            ImGui_ImplOpenGL3_DestroyFontsTexture();
            ImGui_ImplOpenGL3_CreateFontsTexture();
            shade_.reset();
        }
        if (shade_ != preferences.shade) {
            shade_ = preferences.shade;
            theme_ = theme_of(preferences.shade);
            apply(theme_, scale_, ImGui::GetStyle());
        }
        if (language_ != preferences.language) {
            language_ = preferences.language;
            translation_ = preferences.language == Language::spanish
                               ? text::Translation::read(session_.places().assets / "translations" / "es.toml")
                               : text::Translation();
        }
    }

    void draw_frame(const std::optional<fs::path>& screenshot) {
        session_.take_finished();
        prepare_look();
        ImGui_ImplOpenGL3_NewFrame();
        ImGui_ImplGlfw_NewFrame();
        ImGuiIO& io = ImGui::GetIO();
        if (script_ && !script_->in_real_time()) {
            io.DeltaTime = 1.0f / 60;
            io.MousePos = script_->mouse().moved ? ImVec2(script_->mouse().x, script_->mouse().y) : ImVec2(-1, -1);
            io.MouseDown[0] = script_->mouse().down;
        } else
            session_.advance(std::min(double(io.DeltaTime), 0.25));
        ImGui::NewFrame();
        Ui ui{theme_, fonts_, translation_, session_.preferences().units, static_cast<float>(scale_),
              &desktop_.painter(), {}};
        draw_shell(ui, session_, state_, actions_);
        ImGui::Render();
        placed_ = std::move(ui.placed);

        int width = 0, height = 0;
        glfwGetFramebufferSize(desktop_.window(), &width, &height);
        glViewport(0, 0, width, height);
        const ImVec4 ground = ImGui::ColorConvertU32ToFloat4(theme_.ground);
        glClearColor(ground.x, ground.y, ground.z, 1);
        glDepthMask(GL_TRUE);
        glDisable(GL_SCISSOR_TEST);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
        ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
        if (const GLenum error = glGetError(); error != GL_NO_ERROR && (script_ || request_.screenshot))
            throw text::InputError("", 0, "OpenGL reports error " + std::to_string(error),
                                   "report this: it is a mistake of the program or of the driver");
        if (screenshot)
            save_screenshot(desktop_.window(), *screenshot);
        glfwSwapBuffers(desktop_.window());
        if (frames_++ == 0 && script_)
            script_->first_frame_shown();
        if (kept_places_)
            if (std::string text = places_text(placed_); text != places_text_) {
                places_text_ = std::move(text);
                text::write_atomically(*kept_places_, places_text_);
            }

        const Actions actions = std::exchange(actions_, {});
        session_.apply(actions);
        if (!actions.empty())
            frames_to_draw_ = std::max(frames_to_draw_, 2);
    }

    command_line::WindowRequest request_;
    Desktop desktop_;
    Session session_;
    ShellState state_;
    Actions actions_;
    std::optional<Script> script_;
    std::vector<Placed> placed_;
    std::optional<fs::path> kept_places_; // a script asked for it
    std::string places_text_;
    Theme theme_{};
    Fonts fonts_;
    text::Translation translation_;
    double scale_ = 0;
    std::optional<Shade> shade_;
    std::optional<Language> language_;
    int frames_to_draw_ = 3;
    long frames_ = 0;
};

} // namespace

int run_window(const command_line::WindowRequest& request) {
    try {
        return std::make_unique<Run>(request)->loop();
    } catch (const text::InputError& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
}

} // namespace holdtrue::app
