#include "app/window.h"

#include "app/desktop.h"
#include "app/script.h"
#include "app/shell.h"
#include "app/shortcuts.h"
#include "app/ui/text_scale.h"
#include "text/assets.h"
#include "text/atomic_file.h"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <memory>
#include <optional>

namespace holdtrue::app {

namespace {

namespace fs = std::filesystem;

// A mistake in the preferences is told by the session.
WindowSize first_size(const command_line::WindowRequest& request, WindowSize room) {
    Preferences preferences;
    try {
        preferences = read_preferences(usual_places().configuration / "preferences.toml");
    } catch (const text::InputError&) {
    }
    return window_size({request.width, request.height}, preferences, room);
}

// One run of the window: the loop, and what it must remember between frames.
class Run {
public:
    explicit Run(const command_line::WindowRequest& request)
        : request_(request), desktop_([&](WindowSize room) { return first_size(request, room); }),
          session_(usual_places(), Desktop::wake) {
        opened_ = desktop_.window_size();
        if (request.script)
            script_.emplace(*request.script);
        if (request.open)
            session_.apply(act::Open{*request.open});
    }

    int loop() {
        while (!session_.should_close()) {
            wait_for_something();
            if (desktop_.wants_to_close())
                actions_.push_back(act::Quit{});
            for (fs::path& file : desktop_.take_dropped())
                actions_.push_back(act::Open{std::move(file)});
            bool script_done = true;
            std::optional<fs::path> wanted_screenshot;
            if (script_) {
                // A finished simulation must be on the bench before the script looks at it.
                session_.take_finished();
                script_done =
                    !script_->step(session_, placed_, [&](const fs::path& file) { wanted_screenshot = file; });
                if (script_->take_draw_all())
                    desktop_.draw_all_again();
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
        if (const WindowSize left = desktop_.window_size(); left != opened_)
            session_.apply(act::SetWindowSize{left});
        return 0;
    }

private:
    // Draws when there is a reason to; otherwise sleeps until the next event.
    void wait_for_something() {
        if (script_ && script_->waits())
            return desktop_.wait(0.2);
        constexpr int settling_frames = 3; // widgets react to an event over a few frames
        if (script_ || request_.screenshot || session_.playing() || frames_to_draw_ > 0) {
            desktop_.poll();
            frames_to_draw_ = desktop_.take_news() ? settling_frames : std::max(frames_to_draw_ - 1, 0);
            return;
        }
        session_.rest();
        if (session_.worker().busy_with_weld() || session_.among_orders_busy() || session_.class_busy())
            desktop_.wait(0.1); // the progress goes on
        else if (frames_ > 0 && ImGui::GetIO().WantTextInput)
            desktop_.wait(0.4); // the caret blinks
        else
            wait_for_event_or_file();
        desktop_.take_news();
        frames_to_draw_ = settling_frames;
    }

    // Nothing is drawn until there is news; files are looked at from time to time.
    void wait_for_event_or_file() {
        using Clock = std::chrono::steady_clock;
        constexpr std::chrono::duration<double> between_looks(1);
        for (;;) {
            const Clock::time_point start = Clock::now();
            desktop_.wait(between_looks.count());
            const bool woken = Clock::now() - start < 0.98 * between_looks;
            if (woken || session_.look_for_changed_files())
                return;
        }
    }

    void prepare_look() {
        const Preferences& preferences = session_.preferences();
        const double wanted = request_.scale > 0 ? request_.scale : preferences.scale;
        const double room = scale_with_room(ImGui::GetIO().DisplaySize);
        const double scale = std::clamp(wanted > 0 ? wanted : desktop_.screen_scale(), 1.0, room);
        if (scale != scale_) {
            scale_ = scale;
            fonts_ = load_fonts(*ImGui::GetIO().Fonts, scale);
            desktop_.load_fonts_texture();
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
                               ? text::Translation::read(session_.places().assets / "translations" / "es")
                               : text::Translation();
        }
    }

    void draw_frame(const std::optional<fs::path>& screenshot) {
        session_.take_finished();
        prepare_look();
        desktop_.begin_frame();
        ImGuiIO& io = ImGui::GetIO();
        if (script_ && !script_->in_real_time()) {
            io.DeltaTime = 1.0f / 60;
            io.MousePos = script_->mouse().moved ? ImVec2(script_->mouse().x, script_->mouse().y) : ImVec2(-1, -1);
            io.MouseDown[0] = script_->mouse().down;
        } else
            session_.advance(std::min(double(io.DeltaTime), 0.25));
        leave_keys_to_shortcuts(session_);
        ImGui::NewFrame();
        Ui ui{
            theme_, fonts_, translation_, session_.preferences().units, static_cast<float>(scale_), &desktop_.painter(),
            {}};
        draw_shell(ui, session_, state_, actions_);
        ImGui::Render();
        placed_ = std::move(ui.placed);

        if (const unsigned error = desktop_.draw(theme_.ground); error != 0 && (script_ || request_.screenshot))
            throw text::InputError("", 0, text::in_english("OpenGL reports error " + std::to_string(error)),
                                   text::in_english("report this: it is a mistake of the program or of the driver"));
        if (screenshot)
            desktop_.save_picture(*screenshot);
        desktop_.show();
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
    WindowSize opened_;
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
