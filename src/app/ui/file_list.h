// Folders and files to choose from, as the session last looked into them.
#pragma once

#include "app/ui/ui.h"

#include <string>
#include <vector>

namespace holdtrue::app {

// Lists the folders, and the files with one of the endings; without endings a folder is to be chosen, and its files are
// there to be seen only. A click on a folder looks into
// it; a click on a file writes its name into `typed`, and a second click chooses it: true.
bool draw_file_list(Ui& ui, const Session& session, const std::vector<std::string>& endings, std::string& typed,
                    Actions& out);

} // namespace holdtrue::app
