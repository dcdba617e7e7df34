// From a setting card and a joint to the arc and the bead: current, arc power, heat input, deposit, fusion.
// Equations, sources and valid ranges stand at each function of arc/. Net power is what the metal receives:
//   P_net = k U I,   k by ISO/TR 18491 and EN 1011-1 (0.8 for 131, 135, 136, 114; 0.6 for 141)
//   heat input per length  q = P_net / travel   [J/m]
#pragma once

#include "arc/setting_card.h"
#include "arc/shop.h"
#include "part/part.h"

namespace holdtrue::arc {

// The cross-section an arc works on.
struct Section {
    part::JointType type = part::JointType::fillet;
    double thickness_a_m = 0, thickness_b_m = 0;
    double size_m = 0; // wanted leg, throat, depth or plug hole, as in part::Joint
    double root_gap_m = 0;
    double start_k = 293.15; // temperature of the metal when the arc strikes
};
Section section_of(const part::Part& part, const part::Joint& joint);

struct ArcFigures {
    double current_a = 0;
    double arc_power_w = 0;        // U I
    double net_power_w = 0;        // k U I
    double efficiency = 0;         // k
    double heat_input_j_per_m = 0; // net, along a run
    double deposit_m3_per_s = 0;
    double deposit_area_m2 = 0;     // metal left per length of run
    double leg_m = 0, throat_m = 0; // of the bead it makes in this section
    double source_sigma_m = 0;      // standard deviation of the heat spread on the sheet
    double fill_s = 0;              // plug: time to fill the hole
};
// Wire or gas of the card that the shop does not have is an InputError (the plan reader has checked it).
ArcFigures arc_figures(const SettingCard& card, const Shop& shop, const Section& section);

} // namespace holdtrue::arc
