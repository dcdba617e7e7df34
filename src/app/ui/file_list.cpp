#include "app/ui/file_list.h"

#include <algorithm>

namespace holdtrue::app {

bool draw_file_list(Ui& ui, const Session& session, const std::vector<std::string>& endings, std::string& typed,
                    Actions& out) {
    const FolderList& list = session.looked_into();
    bool chosen = false;
    if (button(ui, worded("Up")))
        out.push_back(act::LookInto{list.folder.parent_path()});
    ImGui::SameLine();
    ImGui::AlignTextToFramePadding();
    wrapped(ui, list.folder.string());
    ImGui::BeginChild("files", {0, 9 * ImGui::GetTextLineHeightWithSpacing()}, true);
    if (!list.problem.empty())
        wrapped(ui, list.problem);
    for (const std::string& folder : list.folders) {
        if (ImGui::Selectable((folder + "/").c_str(), false, ImGuiSelectableFlags_DontClosePopups)) {
            out.push_back(act::LookInto{list.folder / folder});
            typed.clear();
        }
        note(ui, (folder + "/").c_str());
    }
    for (const std::string& file : list.files) {
        if (endings.empty()) {
            ImGui::TextDisabled("%s", file.c_str());
            continue;
        }
        if (std::ranges::none_of(endings, [&](const std::string& ending) { return file.ends_with(ending); }))
            continue;
        if (ImGui::Selectable(file.c_str(), typed == file,
                              ImGuiSelectableFlags_AllowDoubleClick | ImGuiSelectableFlags_DontClosePopups)) {
            typed = file;
            chosen = chosen || ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left);
        }
        note(ui, file.c_str());
    }
    ImGui::EndChild();
    return chosen;
}

} // namespace holdtrue::app
