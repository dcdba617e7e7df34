// What one pass does to the metal beside it, all that the model of the whole part needs to know: pull along the weld
// (strip model, tendon_table.h), shrinkage across it and angle (published rules, shrinkage_rules.h), each with its
// band. A table is built once for a pass and its setting card, some 0.1 s; an order then only looks up.
#pragma once

#include "distortion/bar_welds.h"
#include "distortion/shrinkage_rules.h"
#include "distortion/tendon_tables.h"

#include <optional>

namespace holdtrue::distortion {

// Where a pass is laid, and with what.
struct PassSite {
    part::JointType type = part::JointType::fillet;
    TendonCase local; // members a and b at the weld line, heat, its share, travel, spread of the arc
    double deposit_area_m2 = 0;
    double leg_m = 0; // fillet, lap
    double root_gap_m = 0;
    std::optional<AcrossRule> across_rule; // none: the usual one of the joint
    std::optional<AngleRule> angle_rule;
};

struct Shrinkage {
    Tendon tendon;
    // On members a and b. A positive angle turns the member's far edge towards the side the weld is laid on.
    std::array<Figure, 2> across_m, angle_rad;
};

class ShrinkageTable {
public:
    explicit ShrinkageTable(const PassSite& site)
        : ShrinkageTable(site, std::make_shared<const TendonTable>(site.local)) {}
    ShrinkageTable(const PassSite& site, std::shared_ptr<const TendonTable> tendon); // of site.local
    // Stress along the weld, at the weld line, before the pass; tension positive. Across and angle do not depend on it;
    // the angle depends on the start's temperature (shrinkage_rules.h).
    Shrinkage at(double start_k, double prior_stress_pa) const;
    bool converged() const { return tendon_->converged(); }

private:
    std::shared_ptr<const TendonTable> tendon_;
    std::array<Figure, 2> across_m_, angle_rad_;
};

// Strain that metal of this temperature can be made to carry by cold metal round it, in a model whose modulus is that
// of cold steel everywhere: hot metal pushes no harder than its yield. yield(T) / E(20 C).
double carried_strain(const StripMetal& metal, double temperature_k, double yield_pa);

// What two passes of one section do to each other, from strips that keep the first one's plastic strain: the part of
// its own force that the first is left with, and the second's force for what the second alone would give.
struct PairEffect {
    double first_kept = 1, second_ratio = 1;
};
// Both on one bar (bar_welds.h), the second laid when the bar is cold.
PairEffect pair_effect(const Bar& bar, const TorchPass& first, const TorchPass& second, const StripMetal& metal);

} // namespace holdtrue::distortion
