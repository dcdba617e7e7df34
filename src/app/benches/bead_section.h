// The bead in its joint, cut across and drawn to scale, with what it should measure.
#pragma once

#include "app/session/card_check.h"
#include "app/ui/ui.h"

namespace holdtrue::app {

void draw_bead_section(Ui& ui, const CardCheck& check, ImVec2 size);

} // namespace holdtrue::app
