#include "material/steel_grade.h"

#include <algorithm>

namespace holdtrue::material {

double carbon_equivalent_iiw(const Analysis& s) {
    return s.c + s.mn / 6 + (s.cr + s.mo + s.v) / 5 + (s.ni + s.cu) / 15;
}
double carbon_equivalent_cet(const Analysis& s) { return s.c + (s.mn + s.mo) / 10 + (s.cr + s.cu) / 20 + s.ni / 40; }
double carbon_equivalent_pcm(const Analysis& s) {
    return s.c + s.si / 30 + (s.mn + s.cu + s.cr) / 20 + s.ni / 60 + s.mo / 15 + s.v / 10 + 5 * s.b;
}

const std::vector<SteelGrade>& steel_grades() {
    static const std::vector<SteelGrade> grades{
        {"DC01", 200e6, {.c = 0.06, .si = 0.02, .mn = 0.35}},
        {"S235", 235e6, {.c = 0.12, .si = 0.20, .mn = 0.60}},
        {"S275", 275e6, {.c = 0.15, .si = 0.25, .mn = 1.00}},
        {"S355", 355e6, {.c = 0.17, .si = 0.35, .mn = 1.45, .cr = 0.05, .ni = 0.05, .cu = 0.10}},
        {"A36", 250e6, {.c = 0.18, .si = 0.25, .mn = 0.90, .cr = 0.10, .mo = 0.02, .ni = 0.10, .cu = 0.20}},
        {"S420", 420e6, {.c = 0.12, .si = 0.35, .mn = 1.50, .mo = 0.02, .v = 0.04, .ni = 0.05, .cu = 0.05}},
    };
    return grades;
}

const SteelGrade* find_steel_grade(const std::string& name) {
    const auto found = std::ranges::find(steel_grades(), name, &SteelGrade::name);
    return found == steel_grades().end() ? nullptr : &*found;
}

} // namespace holdtrue::material
