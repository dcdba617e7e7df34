// Shielding gases: what a mixture is called by ISO 14175, worked out from its composition.
// Source: ISO 14175:2008 table 2, main groups I, M1, M2, M3 and C, from memory. The bounds belong to the lower
// sub-group ("over 5 to 15 %" holds 15, not 5). Groups R, N, O and sub-groups M34 and M35 are not covered and give "".
#pragma once

#include <string>

namespace holdtrue::material {

// Volume shares that sum to 1.
struct GasMixture {
    double argon = 0, helium = 0, co2 = 0, oxygen = 0, hydrogen = 0;

    double inert() const { return argon + helium; }
    double active() const { return co2 + oxygen; }
};

// "I1", "M21", "C1", ...; "" for a mixture outside the groups above.
// A share within 0.01 % of a bound counts as the bound, so that sums like 0.75 + 0.25 fall where they are written.
std::string iso_14175_group(const GasMixture& gas);

// "75 % Ar, 25 % CO2", largest share first.
std::string in_words(const GasMixture& gas);

// From "75Ar 25CO2", "75Ar/25CO2", "75% Ar + 25% CO2", "CO2", "Ar", "92Ar8CO2", or an ISO 14175 shorthand whose
// composition is common ("M21" 82/18, "C1", "I1", ...). Throws text::InputError: unknown gas, shares that do not
// sum to 100 %, a share that is no number.
GasMixture parse_gas(const std::string& words);

} // namespace holdtrue::material
