// Where the files that ship with the program are found: assets (parts, shops, rules, fonts, translations) and
// lessons (with the exercises). One search for both, the first folder that exists wins:
//   1. the environment variable HOLDTRUE_ASSETS or HOLDTRUE_LESSONS; naming one that is no folder is an InputError
//   2. share/holdtrue/assets or share/holdtrue/lessons beside the bin folder that the program was installed into
//   3. the source tree that the program was built from
// May be called from any thread.
#pragma once

#include <filesystem>

namespace holdtrue::text {

// Throw InputError when there is no such folder anywhere.
std::filesystem::path assets_folder();
std::filesystem::path lessons_folder();

} // namespace holdtrue::text
