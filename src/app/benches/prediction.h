// Which way will each gauge go? Asked before the part is welded.
#pragma once

#include "app/ui/ui.h"

namespace holdtrue::app {

// `pointed_gauge` becomes the gauge of the row under the pointer, if there is one.
void draw_prediction(Ui& ui, const Session& session, int& pointed_gauge, Actions& out);

} // namespace holdtrue::app
