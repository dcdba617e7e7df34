// The frame about the control that the keyboard works. Tab and Shift+Tab carry it from control to control in the order
// in which they are drawn, round and round, beginning on the bench; of a row of choices, or of the moves of a plan, it
// stops at the chosen one only, and the arrow keys go on from there. Ctrl+Tab and Ctrl+Shift+Tab go to the first
// control of the next sheet and of the one before; a sheet of text without any is framed itself, and scrolled by arrows
// and PageDown. Text between two controls is scrolled through by them too, before they go on to the next control. What
// a framed control says of itself stands clear of what the frame can go to. Where a framed control has gone, Tab goes
// on from its place. Enter and Space press what is framed. A digit typed at a framed number begins to type, until Enter
// has ended it. In numbers a comma is a point.
#pragma once

#include "app/ui/ui.h"

#include <cstddef>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

namespace holdtrue::app {

class KeyboardFrame {
public:
    // Before the controls of a frame are drawn: hands on what was typed before its field was open.
    void begin();
    // Whether digits and their marks are for the framed number.
    bool on_number() const { return on_number_; }
    // After they are drawn; those of the bench begin at `first_of_bench` of ui.placed.
    void end(const Ui& ui, const Session& session, std::size_t first_of_bench);

private:
    // What a sheet has above and below the framed control.
    struct Reading {
        struct Side {
            float next = std::numeric_limits<float>::max(); // how far beyond what is seen the next control ends
            float left = 0;                                 // to be scrolled
        };
        float page = 0;
        bool in_sight = true; // the framed control
        Side above, below;
    };
    static Reading text_about(const Ui& ui, const Placed& framed);
    void read_on();
    void walk(const Ui& ui, const Placed* framed, std::size_t first_of_bench);

    bool on_number_ = false, in_number_ = false; // the latter: the number is being typed
    bool was_active_ = false;                    // a control was being worked, such as a text that Enter ends
    std::optional<Reading> reading_;
    ImGuiID opening_ = 0;
    ImGuiID done_ = 0; // the framed number that Enter has ended
    std::vector<ImWchar> typed_;
    std::pair<Bench, const grading::Exercise*> page_{};
    std::optional<ImVec2> was_at_; // the middle of what was framed last on this page
};

bool has_frame(const Placed& control);

void put_frame(const Placed& control); // about it, and brings it into sight

} // namespace holdtrue::app
