#include "text/assets.h"

#include "text/input_error.h"

#include <cctype>
#include <cstdlib>
#include <string>

namespace holdtrue::text {
namespace {

namespace fs = std::filesystem;

fs::path find_folder(const std::string& name) {
    std::error_code ignored;
    std::string variable = "HOLDTRUE_";
    for (const char letter : name)
        variable += static_cast<char>(std::toupper(static_cast<unsigned char>(letter)));

    if (const char* named = std::getenv(variable.c_str()); named && *named) {
        if (!fs::is_directory(named, ignored))
            throw InputError("", 0, variable + " names " + named + ", which is no folder",
                             "let it name the folder " + name + " of the program, or unset it");
        return named;
    }
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    const fs::path installed = program.parent_path().parent_path() / "share" / "holdtrue" / name;
    if (!program.empty() && fs::is_directory(installed, ignored))
        return installed;
    const fs::path source = fs::path(HOLDTRUE_SOURCE_TREE) / name;
    if (fs::is_directory(source, ignored))
        return source;
    throw InputError("", 0, "the program's folder " + name + " is not found", "set " + variable + " to where it is");
}

} // namespace

std::filesystem::path assets_folder() { return find_folder("assets"); }
std::filesystem::path lessons_folder() { return find_folder("lessons"); }

} // namespace holdtrue::text
