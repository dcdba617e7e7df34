// A section with its heat and its strips, through any number of passes and waits: heat (section_heat.h) drives
// mechanics (strip_mechanics.h), which does not act back.
#pragma once

#include "distortion/section_heat.h"
#include "distortion/strip_mechanics.h"

namespace holdtrue::distortion {

class StripModel {
public:
    StripModel(const StripSection& section, const StripMetal& metal, const HeatSettings& settings,
               const StripSupport& support, double start_k);

    void weld(const TorchPass& torch);
    void wait(double time_s);
    void cool_below(double kelvin); // waits until no strip is hotter
    void cool();                    // to ambient, all over

    StripResult result(double weld_line_m) const { return mechanics_.result(weld_line_m); } // after cool()
    const SectionHeat& heat() const { return heat_; }
    const StripMechanics& mechanics() const { return mechanics_; }

private:
    SectionHeat heat_;
    StripMechanics mechanics_;
    double ambient_k_;
};

} // namespace holdtrue::distortion
