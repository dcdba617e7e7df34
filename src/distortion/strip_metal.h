// What the strip model needs to know of steel, tabulated by the kelvin: a table of tendon forces looks the curves up
// some 10^7 times. The curves themselves and their sources are those of material/steel.h.
#pragma once

#include <vector>

namespace holdtrue::distortion {

// EN 1993-1-2 gives hot steel two strengths. Under a weld the metal strains by 0.5 to 2 % at 200 to 800 C, between
// the two; which one is used changes a tendon force by some 8 %, and what two welds leave between them by half.
enum class YieldCurve {
    effective, // k_y of table 3.1, reached at 2 % strain: the one used, as it gives the measured tendon constant
    proof,     // k_p0.2 of table E.1, 0.2 % plastic strain: the other end of the band
};

class StripMetal {
public:
    explicit StripMetal(YieldCurve curve);

    struct Mechanical {
        double yield_ratio; // of the yield at 20 C
        double modulus_pa;
        double expansion; // thermal strain from 20 C
    };
    Mechanical mechanical(double temperature_k) const;

    struct Thermal {
        double enthalpy_j_per_m3; // from 20 C, transformation and melting included
        double capacity_j_per_m3k;
        double kirchhoff_w_per_m; // integral of conductivity from 20 C
        double conductivity_w_per_mk;
    };
    Thermal thermal(double temperature_k) const;

    YieldCurve curve() const { return curve_; }

private:
    struct Row {
        double yield_ratio, modulus_pa, expansion, enthalpy_j_per_m3, kirchhoff_w_per_m;
    };
    YieldCurve curve_;
    std::vector<Row> rows_;
};

} // namespace holdtrue::distortion
