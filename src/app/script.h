// Replays a file of actions through the window: `holdtrue --script FILE`. Besides the actions of action_text.h it
// knows lines that wait for the window or look at it:
//     finish              waits until the simulation under way is done
//     frames N            draws N frames
//     click LABEL         presses the control of that English label, with the mouse
//     screenshot FILE     saves the window as a PNG
//     places FILE         writes where every control is: label, left, top, right, bottom, state
//     keep_places FILE    the same, again whenever they have changed, until the window closes
//     print mark          writes "mark 72.4 passed" to standard output
#pragma once

#include "app/session/session.h"
#include "app/ui/ui.h"

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace holdtrue::app {

// One line per control: label, left, top, right, bottom, enabled, disabled or scrolled away; separated by
// tabs.
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

private:
    struct Line {
        int number;
        std::vector<std::string> words;
    };
    bool click(const std::vector<Placed>& placed, const Line& line);

    std::string file_;
    std::vector<Line> lines_;
    std::size_t next_ = 0;
    int frames_left_ = 0;
    int click_phase_ = 0;
    Mouse mouse_;
    std::optional<std::filesystem::path> kept_places_;
};

} // namespace holdtrue::app
