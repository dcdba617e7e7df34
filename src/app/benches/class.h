// The class on the record bench: an instructor marks a folder of plans against one exercise.
#pragma once

#include "app/dialogs.h"

namespace holdtrue::app {

// What is marked, the start of it, and how far it is.
void draw_class_choice(Ui& ui, const Session& session, FileQuestion& question, Actions& out);
// What was found: figures, distribution, remarks made most often, every plan.
void draw_class(Ui& ui, const Session& session, FileQuestion& question, Actions& out);

} // namespace holdtrue::app
