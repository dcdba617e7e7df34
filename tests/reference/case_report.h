// What a finished reference case says: bow, shortening and angles from the displacements that ccx printed.
#pragma once

#include <string>

namespace holdtrue::reference {

// `input` as written for ccx, `results` its .dat file. Prints one block for each step that printed displacements.
void read_case(const std::string& input, const std::string& results);

} // namespace holdtrue::reference
