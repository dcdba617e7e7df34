// Hints, as several benches offer them: a button that shows those that were given, and what the next one costs.
#pragma once

#include "app/ui/ui.h"

namespace holdtrue::app {

// Nothing where the exercise has none.
void draw_hints(Ui& ui, const Session& session, Actions& out);

} // namespace holdtrue::app
