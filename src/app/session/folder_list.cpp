#include "app/session/folder_list.h"

#include <algorithm>
#include <string_view>

namespace holdtrue::app {

namespace fs = std::filesystem;

FolderList list_folder(const fs::path& folder) {
    constexpr std::string_view kinds[]{".exercise.toml", ".plan.toml", ".handout.zip", ".handin.zip", ".csv", ".pdf"};
    FolderList list;
    std::error_code error;
    list.folder = fs::absolute(folder, error).lexically_normal();
    for (fs::directory_iterator at(list.folder, error), end; !error && at != end; at.increment(error)) {
        const std::string name = at->path().filename().string();
        std::error_code ignored;
        if (name.starts_with('.'))
            continue;
        if (at->is_directory(ignored))
            list.folders.push_back(name);
        else if (std::ranges::any_of(kinds, [&](std::string_view kind) { return name.ends_with(kind); }))
            list.files.push_back(name);
    }
    if (error)
        list.problem = error.message();
    std::ranges::sort(list.folders);
    std::ranges::sort(list.files);
    return list;
}

} // namespace holdtrue::app
