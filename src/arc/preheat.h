// How warm mild steel must be before it is welded, by two rules that do not agree; the stricter governs.
//   EN 1011-2 method B (clause C.3, from memory):
//     Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328      [C]; d mm, HD ml/100 g, Q kJ/mm
//     valid CET 0.2-0.5 %, d 10-90 mm, HD 1-20, Q 0.5-4 kJ/mm; outside nothing is asked, and that is said
//   AWS D1.1 minimum preheat and interpass (2020 table 5.8, 2015 table 3.3, from memory), category B: low-hydrogen
//     processes (solid and flux-cored wire), by the thickest part at the weld
#pragma once

#include "arc/setting_card.h"
#include "material/steel_grade.h"

#include <optional>
#include <string>

namespace holdtrue::arc {

// nullopt outside the range of the formula. Q below 0.5 kJ/mm is taken as 0.5 only if `clamp_heat_input`.
std::optional<double> preheat_method_b_k(double cet, double thickness_m, double hydrogen_ml, double heat_input_j_per_m,
                                         bool clamp_heat_input = false);
double preheat_aws_k(double thickest_m, bool low_hydrogen = true);

// Diffusible hydrogen of the deposit, ml/100 g: solid wire 5, gas-shielded flux-cored 10, self-shielded 10
// (common practice, no source; ask the wire's maker).
double hydrogen_ml(Process process);

struct Preheat {
    double ce_iiw = 0, cet = 0, pcm = 0;
    std::optional<double> method_b_k; // none: outside its range, or it asks for less than 0 C
    double aws_k = 0;
    double needed_k = 0;       // the stricter
    std::string governs;       // "AWS D1.1 category B", "EN 1011-2 method B"
    std::string method_b_note; // why method B asks nothing; else empty
};
Preheat preheat(const material::Analysis& steel, Process process, double thicker_m, double heat_input_j_per_m);

} // namespace holdtrue::arc
