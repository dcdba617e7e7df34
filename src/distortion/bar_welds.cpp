#include "distortion/bar_welds.h"

#include "material/steel.h"
#include "text/verify.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::distortion {

BarOutcome weld_bar(const Bar& bar, std::span<const BarWeld> welds, const StripMetal& metal,
                    const HeatSettings& settings, const Grading& grading) {
    std::vector<double> lines;
    for (const BarWeld& weld : welds) {
        VERIFY(weld.torch.at_m >= 0 && weld.torch.at_m <= bar.width_m, "weld lines lie on the bar");
        lines.push_back(weld.torch.at_m);
    }
    const StripSection section = plate_section(bar.width_m, bar.thickness_m, bar.yield_pa, lines, grading);
    StripModel model(section, metal, settings, {}, settings.ambient_k);

    BarOutcome outcome;
    for (const BarWeld& weld : welds) {
        if (weld.interval_s > 0)
            model.wait(weld.interval_s - model.heat().time_since_torch_s() - time_before_torch_s(weld.torch, settings));
        if (weld.wait_below_k > 0)
            model.cool_below(weld.wait_below_k);
        outcome.interpass_k.push_back(model.heat().hottest_k());
        model.weld(weld.torch);
    }
    model.cool();

    const StripResult result = model.result(bar.width_m / 2);
    outcome.bow_m = result.curvature_per_m * bar.length_m * bar.length_m / 8;
    outcome.shortening_m = result.shortening * bar.length_m;
    outcome.converged = result.converged && model.heat().converged();
    outcome.force_n.resize(lines.size());
    for (std::size_t i = 0; i < section.strips.size(); ++i) {
        const auto nearest =
            std::ranges::min_element(lines, {}, [&](double line) { return std::abs(line - section.strips[i].at_m); });
        if (nearest != lines.end())
            outcome.force_n[nearest - lines.begin()] -=
                material::steel_modulus_20c_pa * result.plastic[i] * section.strips[i].area_m2();
    }
    return outcome;
}

} // namespace holdtrue::distortion
