#include "arc/preheat.h"

#include "units/units.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {

std::optional<double> preheat_method_b_k(double cet, double thickness_m, double hydrogen, double heat_input_j_per_m,
                                         bool clamp_heat_input) {
    const double d = thickness_m * 1e3;
    double q = heat_input_j_per_m * 1e-6;
    if (clamp_heat_input)
        q = std::clamp(q, 0.5, 4.0);
    constexpr double hair = 1e-9;
    if (cet < 0.2 - hair || cet > 0.5 + hair || d < 10 - hair || d > 90 + hair || hydrogen < 1 || hydrogen > 20 ||
        q < 0.5 - hair || q > 4 + hair)
        return std::nullopt;
    return units::celsius(697 * cet + 160 * std::tanh(d / 35) + 62 * std::pow(hydrogen, 0.35) + (53 * cet - 32) * q -
                          328);
}

double preheat_aws_k(double thickest_m, bool low_hydrogen) {
    const double mm = thickest_m * 1e3;
    if (mm <= 20)
        return units::celsius(0);
    if (mm <= 38)
        return units::celsius(low_hydrogen ? 10 : 65);
    if (mm <= 65)
        return units::celsius(low_hydrogen ? 65 : 110);
    return units::celsius(low_hydrogen ? 110 : 150);
}

double hydrogen_ml(Process process) {
    return process == Process::fcaw_gas_136 || process == Process::fcaw_self_114 ? 10 : 5;
}

Preheat preheat(const material::Analysis& steel, Process process, double thicker_m, double heat_input_j_per_m) {
    Preheat result;
    result.ce_iiw = material::carbon_equivalent_iiw(steel);
    result.cet = material::carbon_equivalent_cet(steel);
    result.pcm = material::carbon_equivalent_pcm(steel);
    result.aws_k = preheat_aws_k(thicker_m);
    result.needed_k = result.aws_k;
    result.governs = "AWS D1.1 category B";

    const double asked_b =
        preheat_method_b_k(result.cet, thicker_m, hydrogen_ml(process), heat_input_j_per_m, true).value_or(-1);
    if (asked_b > units::celsius(0)) {
        result.method_b_k = asked_b;
        if (asked_b > result.needed_k) {
            result.needed_k = asked_b;
            result.governs = "EN 1011-2 method B";
        }
    } else if (asked_b > 0)
        result.method_b_note = "it asks for less than 0 °C";
    else if (thicker_m < 10e-3)
        result.method_b_note = "it begins at 10 mm";
    else if (result.cet < 0.2)
        result.method_b_note = "it begins at CET 0.20";
    else
        result.method_b_note = "outside its range";
    return result;
}

} // namespace holdtrue::arc
