// The frame about the benches: the path of the job along the top, the file menu, questions and problems, and the
// keyboard. Draws one whole frame of the window's contents; knows no window system.
#pragma once

#include "app/benches/benches.h"
#include "app/ui/ui.h"

namespace holdtrue::app {

struct ShellState {
    BriefState brief;
    SetupState setup;
    OrderState order;
    WeldState weld;
    InspectState inspect;
    LessonsState lessons;
    RecordState record;
    CheckState check;
    std::string file_name; // typed into the open and save fields
    bool asks_open = false, asks_save = false;
};

void draw_shell(Ui& ui, const Session& session, ShellState& state, Actions& out);

} // namespace holdtrue::app
