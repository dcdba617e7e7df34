// What a pass leaves: deposit, its shape in the joint, and how deep the arc melts.
//
// Deposit: area = wire area * feed * efficiency / travel. Share of the wire that ends in the joint (AWS Welding
// Handbook, from memory): solid wire short-circuiting in CO2 0.93, in argon mixtures 0.955, in spray 0.975;
// metal-cored 0.92; gas-shielded flux-cored 0.86, self-shielded 0.78 (with 0.85 of the metal of solid wire).
//
// Shape: a tenth of the deposit stands proud of the flat face (practice: 5-20 %), so that a fillet between square
// members has leg = sqrt(2 area / 1.1), throat = leg / sqrt(2). Corner and lap alike. A butt fills its gap.
//
// Penetration: Jackson's formula (C. E. Jackson, The science of arc welding, Welding Journal 1960, from memory)
//   P = K (I^4 / (S E^2))^(1/3)     P inch, I ampere, S inch/min, E volt, K = 0.0010 for gas-shielded solid wire
// for a bead on thick cold plate; published scatter about +-30 %. Valid 60-600 A. Hot plate: see fusion.h.
#pragma once

#include "arc/arc_condition.h"
#include "part/part.h"

namespace holdtrue::arc {

double deposit_share(const ArcSetting& setting, Transfer transfer);
// Metal laid per second, of the filler's density [m^3/s].
double deposit_m3_per_s(const ArcSetting& setting, Transfer transfer);

inline constexpr double convex_share = 0.10; // of a flat face's area that stands above it

struct BeadShape {
    double leg_m = 0;    // fillet, lap, corner
    double throat_m = 0; // through which the members conduct; a butt's: what is filled and melted, at most the sheet
    double width_m = 0;  // of the face
};
// `groove_gap_m` is a butt's root gap; `penetration_m` counts for butt and edge.
BeadShape bead_shape(part::JointType type, double deposit_area_m2, double thinner_m, double groove_gap_m,
                     double penetration_m);
// Inverse for joints with a leg: area that leaves this leg.
double area_for_leg_m2(double leg_m);

inline constexpr double penetration_scatter = 0.30; // of the value, each side
double penetration_m(Process process, double current_a, double volts_v, double travel_m_per_s);

} // namespace holdtrue::arc
