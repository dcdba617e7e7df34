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
            throw InputError("", 0, {worded("{0} names {1}, which is no folder"), {variable, std::string(named)}},
                             {worded("let it name the folder {0} of the program, or unset it"), {name}});
        return named;
    }
    const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
    const fs::path installed = program.parent_path().parent_path() / "share" / "holdtrue" / name;
    if (!program.empty() && fs::is_directory(installed, ignored))
        return installed;
    const fs::path source = fs::path(HOLDTRUE_SOURCE_TREE) / name;
    if (fs::is_directory(source, ignored))
        return source;
    throw InputError("", 0, {worded("the program's folder {0} is not found"), {name}},
                     {worded("set {0} to where it is"), {variable}});
}

} // namespace

std::filesystem::path assets_folder() { return find_folder("assets"); }
std::filesystem::path lessons_folder() { return find_folder("lessons"); }

} // namespace holdtrue::text
