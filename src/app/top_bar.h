// The top of the window: the path of the job, what lies beside it, and the menu.
#pragma once

#include "app/dialogs.h"

namespace holdtrue::app {

void draw_top_bar(Ui& ui, const Session& session, FileQuestion& question, Actions& out);

} // namespace holdtrue::app
