// The frame about the control that the keyboard works. Tab and Shift+Tab carry it from control to control in the order
// in which they are drawn, round and round, beginning on the bench; of a row of choices, or of the moves of a plan, it
// stops at the chosen one only, and the arrow keys go on from there. Enter and Space press what is framed. A digit
// typed at a framed number begins to type, until Enter has ended it. In numbers a comma is a point.
#pragma once

#include "app/ui/ui.h"

#include <cstddef>
#include <vector>

namespace holdtrue::app {

class KeyboardFrame {
public:
    // Before the controls of a frame are drawn: hands on what was typed before its field was open.
    void begin();
    // Whether digits and their marks are for the framed number.
    bool on_number() const { return on_number_; }
    // After they are drawn; the bench's controls begin at `bench` of ui.placed.
    void end(const Ui& ui, std::size_t bench);

private:
    bool on_number_ = false, in_number_ = false; // the latter: the number is being typed
    bool was_active_ = false;                    // a control was being worked, such as a text that Enter ends
    ImGuiID opening_ = 0;
    ImGuiID done_ = 0; // the framed number that Enter has ended
    std::vector<ImWchar> typed_;
};

void put_frame(const Placed& control); // about it, and brings it into sight

} // namespace holdtrue::app
