// Does the arc melt into each member, and does it melt through?
//
// Fusion. Jackson's penetration (bead.h) for the whole arc into one cold thick plate, brought to a member by
//   P_i = P * (share of the arc on the member)^(2/3) * sqrt((Tm - 293 K) / (Tm - T_start))
// since P goes with I^(4/3), and a warm plate needs less heat to melt; both factors are ours. A butt's members share
// one arc in one plate: share 1. Needed: a tenth of the member's thickness, at most 0.8 mm, and no more than twice
// the other member would need (common practice, no source). The low end takes 30 % off for scatter.
//
// Burn-through. Peak temperature of the member's back face by Rosenthal's finite plate (moving_source.h), for a
// plate as thick as the member and a third of the bead's leg, which lies on it. The heat that drives a member is
//   q_i = q * e_i, the mean of what the aim and what conduction would give:
//   through members (a tee's or lap's b) count twice, because heat leaves to both sides;
//   e of a tee of equal sheets with even aim: 2/3 each; of a butt: 1.
// The conduction solutions know no melting: the latent heat is counted as a further rise, so a back face is solid up
// to the solidus and liquid when the rise has covered latent heat / specific heat beyond it. +-20 %; an outcome's
// own field (weld/) is better where there is one: burn_through_at() judges its peak.
#pragma once

#include "arc/arc.h"

namespace holdtrue::arc {

struct Melting {
    double solidus_k, liquidus_k, latent_as_rise_k;
};
Melting melting_of(material::Metal metal); // steel: 1460 C, 1520 C (from memory; EN 1993-1-2 ends at 1200 C)

struct MemberFusion {
    double penetration_m = 0, low_m = 0; // expected, and with the scatter against us
    double needed_m = 0;
};

struct BackFace {
    double peak_k = 0;       // at most the liquidus
    double molten_share = 0; // 0 solid, 1 wholly liquid: the pool hangs free
    double spare_k = 0;      // solidus less peak; negative once it melts
};
// From a peak temperature of a field that knows latent heat.
BackFace burn_through_at(double peak_k, material::Metal metal);

struct Members {
    MemberFusion fusion_a, fusion_b;
    BackFace back_a, back_b;
    double full_depth_width_m = 0; // butt: width that melts through the whole sheet (thin plate)
};
Members members(const SettingCard& card, const ArcFigures& figures, const Section& section);

} // namespace holdtrue::arc
