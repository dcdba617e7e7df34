// Typical analyses of structural steels and the carbon equivalents that hardening is judged by.
//   CE(IIW) = C + Mn/6 + (Cr+Mo+V)/5 + (Ni+Cu)/15
//   CET     = C + (Mn+Mo)/10 + (Cr+Cu)/20 + Ni/40
//   Pcm     = C + Si/30 + (Mn+Cu+Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B
// EN 1011-2:2001 C.2, C.3; Ito and Bessyo; from memory. Use the mill certificate where there is one: the analyses are
// typical, from memory, not limits of the standards.
#pragma once

#include <string>
#include <vector>

namespace holdtrue::material {

struct Analysis { // percent by mass
    double c = 0, si = 0, mn = 0, cr = 0, mo = 0, v = 0, ni = 0, cu = 0, b = 0;
};
double carbon_equivalent_iiw(const Analysis& steel);
double carbon_equivalent_cet(const Analysis& steel);
double carbon_equivalent_pcm(const Analysis& steel);

struct SteelGrade {
    std::string name;
    double yield_pa = 0;
    Analysis typical;
};
const std::vector<SteelGrade>& steel_grades();
// Null for a grade that is not known.
const SteelGrade* find_steel_grade(const std::string& name);

} // namespace holdtrue::material
