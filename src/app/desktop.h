// The window system: the window with its OpenGL context, the widget library tied to both, and what comes in from
// keyboard, mouse and file manager. One at a time, on the main thread.
#pragma once

#include "app/gl/canvas.h"
#include "app/gl/gl_painter.h"
#include "app/gl/presenter.h"
#include "app/input_queue.h"
#include "app/session/preferences.h"
#include "app/ui/damage.h"

#include <array>
#include <filesystem>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

struct GLFWwindow;

namespace holdtrue::app {

class Desktop {
public:
    // `size`: of the window, given the room that the screen has. Throws InputError where no window can be opened.
    explicit Desktop(const std::function<WindowSize(WindowSize room)>& size);
    ~Desktop();
    Desktop(const Desktop&) = delete;
    Desktop& operator=(const Desktop&) = delete;

    Painter& painter() { return *painter_; }
    double screen_scale() const; // as the screen asks, 1 to 2.5
    WindowSize window_size() const;
    bool wants_to_close(); // once per click on the window's close button
    std::vector<std::filesystem::path> take_dropped();

    // What has happened, without waiting, or waiting for it so long at most.
    void poll();
    void wait(double at_most_s);
    static void wake(); // from any thread
    // Whether anything came in since the last call, or is left for the next frame.
    bool take_news() { return std::exchange(news_, false) || !input_.empty(); }

    void load_fonts_texture(); // after the fonts have changed
    // begin_frame(), then ImGui::NewFrame(), the widgets, ImGui::Render(); draw() paints them, show() brings them up.
    void begin_frame();
    unsigned draw(unsigned ground);             // 0, or the error that OpenGL reports
    void draw_all_again() { damage_.forget(); } // with the next draw(), which else paints only what has changed
    void show();
    void save_picture(const std::filesystem::path& file) const; // of what draw() painted, as a PNG

private:
    void listen();

    GLFWwindow* window_ = nullptr;
    std::unique_ptr<gl::GlPainter> painter_;
    std::unique_ptr<gl::Canvas> canvas_;
    std::unique_ptr<gl::Presenter> presenter_;
    std::vector<PixelBox> damaged_; // of the window, since it was shown
    Damage damage_;
    unsigned ground_ = 0; // of the last frame
    InputQueue input_;
    std::array<bool, 3> buttons_down_{};
    float pointer_x_ = 0, pointer_y_ = 0; // after the last event
    bool news_ = false;
    std::vector<std::filesystem::path> dropped_;
};

} // namespace holdtrue::app
