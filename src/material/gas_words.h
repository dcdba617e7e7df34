// How people are told of a shielding gas.
#pragma once

#include "material/shielding_gas.h"

#include <string>

namespace holdtrue::material {

// "75 % Ar, 25 % CO2 (ISO 14175 M21)"; without the bracket for a mixture outside the groups of shielding_gas.h.
std::string with_group(const GasMixture& gas);

} // namespace holdtrue::material
