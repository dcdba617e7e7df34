#pragma once

#include "app/benches/common.h"

namespace holdtrue::app {

void draw_among_orders(Ui& ui, const Session& session, Actions& out);

} // namespace holdtrue::app
