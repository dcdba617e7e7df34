#include "command_line/shipped_file.h"

#include "text/assets.h"
#include "text/input_error.h"
#include "text/words.h"

#include <algorithm>
#include <array>
#include <filesystem>

namespace holdtrue::command_line {
namespace {

namespace fs = std::filesystem;

fs::path folder_of(FileKind kind) {
    switch (kind) {
    case FileKind::exercise:
        return text::lessons_folder() / "exercises";
    case FileKind::part:
        return text::assets_folder() / "parts";
    default:
        return text::assets_folder() / "shops";
    }
}

std::string ending_of(FileKind kind) { return std::string(".") + word_of(kind) + ".toml"; }

} // namespace

const char* word_of(FileKind kind) {
    return kind == FileKind::exercise ? "exercise" : kind == FileKind::part ? "part" : "shop";
}

bool is_shipped(const fs::path& file) {
    std::error_code ignored;
    const fs::path folder = fs::weakly_canonical(file, ignored).parent_path();
    return std::ranges::any_of(std::array{FileKind::exercise, FileKind::part, FileKind::shop},
                               [&](FileKind kind) { return fs::equivalent(folder, folder_of(kind), ignored); });
}

std::vector<std::string> shipped_names(FileKind kind) {
    std::vector<std::string> names;
    const std::string ending = ending_of(kind);
    for (const auto& entry : fs::directory_iterator(folder_of(kind)))
        if (const std::string file = entry.path().filename().string(); file.ends_with(ending))
            names.push_back(file.substr(0, file.size() - ending.size()));
    std::ranges::sort(names);
    return names;
}

std::string file_of(FileKind kind, const std::string& given) {
    std::error_code ignored;
    if (given.empty() || given.find_first_of("/.") != std::string::npos || fs::is_regular_file(given, ignored))
        return given;
    const std::string file = given + ending_of(kind);
    if (fs::is_regular_file(file, ignored))
        return file;
    const std::vector<std::string> names = shipped_names(kind);
    if (std::ranges::find(names, given) != names.end())
        return (folder_of(kind) / file).string();
    throw text::InputError(
        "", 0, text::in_english("there is neither a file " + file + " nor " + word_of(kind) + " \"" + given + '"'),
        text::did_you_mean(given, names, text::in_english("those that ship are " + text::listed(names))));
}

} // namespace holdtrue::command_line
