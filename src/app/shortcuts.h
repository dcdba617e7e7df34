// Every key of the window in one table: what it does, and how the list of shortcuts (F1) names it.
#pragma once

#include "app/session/session.h"

#include <optional>
#include <vector>

namespace holdtrue::app {

struct Shortcut {
    const char* keys;    // "Ctrl+Z", as shown and as matched
    const char* english; // what it does
    std::optional<Action> action;
};
// The actions that depend on the session (play or pause) are as they stand now.
std::vector<Shortcut> shortcuts(const Session& session);

// Adds what was pressed this frame; digits and their marks are left to a number that is being typed. `open` and
// `save_as` ask for a file name; the shell shows the question.
struct KeyRequests {
    bool open = false, save_as = false;
};
KeyRequests read_keys(const Session& session, bool on_number, Actions& out);

// Before ImGui::NewFrame(): a key that a shortcut takes does not carry the keyboard's frame too.
void leave_keys_to_shortcuts(const Session& session);

} // namespace holdtrue::app
