// The frame about the benches: the top bar, problems of files, what the last action said, dialogs, and the
// keyboard. Draws one whole frame of the window's contents; knows no window system.
#pragma once

#include "app/benches/benches.h"
#include "app/dialogs.h"
#include "app/ui/keyboard_frame.h"
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
    FileQuestion file;
    KeyboardFrame frame;
};

void draw_shell(Ui& ui, const Session& session, ShellState& state, Actions& out);

} // namespace holdtrue::app
