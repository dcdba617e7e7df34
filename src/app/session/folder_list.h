// What is in a folder, for choosing a file: other folders, and files of the kinds the program reads or writes.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace holdtrue::app {

struct FolderList {
    std::filesystem::path folder;            // absolute
    std::vector<std::string> folders, files; // names, sorted; hidden ones are left out
    std::string problem;                     // why there is nothing, in the words of the system
};

// Throws nothing.
FolderList list_folder(const std::filesystem::path& folder);

} // namespace holdtrue::app
