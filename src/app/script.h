// Replays a file of actions through the window: `holdtrue --script FILE`. Besides the actions of action_text.h it
// knows lines that wait for the window or look at it:
//     finish              waits until the simulation under way is done
//     frames N            draws N frames
//     click LABEL         presses the control of that English label, with the mouse
//     screenshot FILE     saves the window as a PNG
//     draw_all            draws the next frame as a whole, where else only what has changed is drawn again
//     places FILE         writes where every control is: label, left, top, right, bottom, state
//     keep_places FILE    the same, again whenever they have changed, until the window closes
//     print mark          writes "mark 72.4 passed" to standard output
//     print first_frame   writes when the window showed its first frame: "first frame 1700000000123 ms", Unix time
//     print preview       writes how long the heat after the last change of the plan took to find: "preview 63 ms"
//     frame_rate SECONDS  lets the clock of the weld run as it does for a person, and writes how many frames a second
//                         that gave, the slowest of them, and what each cost on all processors together:
//                         "61.2 frames per second, slowest 21.4 ms, processor time 9.1 ms a frame"
#pragma once

#include "app/session/session.h"
#include "app/ui/ui.h"

#include <chrono>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace holdtrue::app {

// One line per control: label, left, top, right, bottom, enabled, disabled or scrolled away, after "framed " where the
// keyboard's frame is about it; separated by tabs.
std::string places_text(const std::vector<Placed>& placed);

class Script {
public:
    explicit Script(const std::filesystem::path& file); // throws InputError

    // Called before each frame; does what can be done now. `placed`: of the frame before. False: nothing is left.
    bool step(Session& session, const std::vector<Placed>& placed,
              const std::function<void(const std::filesystem::path&)>& screenshot);
    const std::optional<std::filesystem::path>& kept_places() const { return kept_places_; }
    // Where the script holds the mouse, if it does.
    struct Mouse {
        bool moved = false, down = false;
        float x = 0, y = 0;
    };
    const Mouse& mouse() const { return mouse_; }
    // Whether a line asked for a whole frame since the last call.
    bool take_draw_all() { return std::exchange(draw_all_, false); }
    // Whether frames take the time they take; else each counts as a 60th of a second, so that pictures are the same.
    bool in_real_time() const { return rate_.has_value(); }
    // Whether the next line waits for a simulation, and frames in between would only take the processor from it.
    bool waits() const { return waits_; }
    void first_frame_shown() { first_frame_ms_ = unix_ms(); }

private:
    struct Line {
        int number;
        std::vector<std::string> words;
    };
    using Clock = std::chrono::steady_clock;
    struct Rate {
        Clock::time_point start, last;
        double processor_s = 0; // at the start
        int frames = 0;
        double slowest_s = 0;
    };
    static long long unix_ms();
    bool click(const std::vector<Placed>& placed, const Line& line);
    bool measure_rate(double seconds); // whether the time is over
    void print(const Session& session, const Line& line) const;

    std::string file_;
    std::vector<Line> lines_;
    std::size_t next_ = 0;
    int frames_left_ = 0;
    int click_phase_ = 0;
    bool waits_ = false;
    bool draw_all_ = false;
    Mouse mouse_;
    std::optional<Rate> rate_;
    long long first_frame_ms_ = 0;
    std::optional<std::filesystem::path> kept_places_;
};

} // namespace holdtrue::app
