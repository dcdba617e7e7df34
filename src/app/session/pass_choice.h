// Passes without pointing at them: which comes next, and where on the part one lies.
#pragma once

#include "app/session/session.h"

namespace holdtrue::app {

// `by` passes after the chosen one, round and round; from the last weld before a wait, a turn or a clamp that is
// chosen; -1: the part has none.
int next_pass(const Session& session, int by);
// Of those that can be welded next the one after (by > 0) or before the chosen one; -1: none can.
int next_open_pass(const Session& session, int by);

part::Attachment middle_of_pass(const part::Part& part, const part::Mesh& mesh, int pass);

} // namespace holdtrue::app
