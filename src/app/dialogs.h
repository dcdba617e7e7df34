// What comes up over the benches: the list of keys, the questions about an unsaved and about a recovered plan, and
// which file is meant.
#pragma once

#include "app/ui/ui.h"

#include <string>

namespace holdtrue::app {

// What a file, or a folder, is asked for.
enum class FileWish { none, open, save_plan, hand_in, class_exercise, class_folder, class_table, class_report };

struct FileQuestion {
    FileWish wish = FileWish::none;
    std::string typed;
    bool shown = false; // since it was asked

    void ask(FileWish for_what) { *this = {for_what, typed, false}; }
    bool asked() const { return wish != FileWish::none; }
};

void draw_dialogs(Ui& ui, const Session& session, FileQuestion& question, Actions& out);

} // namespace holdtrue::app
