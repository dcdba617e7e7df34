// From a setting card and a joint to the arc and the bead: current, arc power, heat input, deposit, fusion.
// Equations, sources and valid ranges stand at each function of arc/ (melting_rate.h, arc_condition.h, bead.h).
// Net power is what the metal receives:
//   P_net = k U I,   k by ISO/TR 18491 and EN 1011-1 (0.8 for 131, 135, 136, 114; 0.6 for 141)
//   heat input per length  q = P_net / travel   [J/m]
// AWS D1.1 counts the arc energy U I / travel instead (k = 1); both are given.
#pragma once

#include "arc/arc_condition.h"
#include "arc/setting_card.h"
#include "arc/shop.h"
#include "part/part.h"

#include <optional>

namespace holdtrue::arc {

// The cross-section an arc works on. What a part file does not say stays empty and is not judged.
struct Section {
    part::JointType type = part::JointType::fillet;
    part::PassKind kind = part::PassKind::run;
    double thickness_a_m = 0, thickness_b_m = 0; // plug: the hole is in a
    double size_m = 0; // wanted leg, throat, depth or plug hole, as in part::Joint; 0: as the rules ask
    double root_gap_m = 0;
    double start_k = 293.15; // temperature of the metal when the arc strikes

    material::Metal metal = material::Metal::mild_steel;
    std::string steel = "S235";              // grade, for preheat
    bool coated_a = false, coated_b = false; // galvanised, primed or painted at the joint
    double length_m = 0;                     // of the weld; 0: not known
    std::optional<double> tack_length_m, tack_spacing_m;
    std::optional<double> bared_m;        // coating taken off each side of the joint
    std::optional<double> plug_spacing_m; // between centres
    std::optional<double> groove_angle_rad, root_face_m;
    bool backing = false;
    bool both_sides = false;
    int passes = 0; // as planned; 0: as many as the size asks

    double thinner_m() const { return thickness_a_m < thickness_b_m ? thickness_a_m : thickness_b_m; }
    double thicker_m() const { return thickness_a_m < thickness_b_m ? thickness_b_m : thickness_a_m; }
    bool operator==(const Section&) const = default;
};
Section section_of(const part::Part& part, const part::Joint& joint);

struct ArcFigures {
    double current_a = 0;
    double arc_power_w = 0;        // U I
    double net_power_w = 0;        // k U I
    double efficiency = 0;         // k
    double heat_input_j_per_m = 0; // net, along a run
    double arc_energy_j_per_m = 0; // U I / travel, as AWS D1.1 counts it
    double deposit_m3_per_s = 0;
    double deposit_kg_per_s = 0;
    double deposit_area_m2 = 0;     // metal left per length of run
    double leg_m = 0, throat_m = 0; // of the bead it makes in this section
    double face_width_m = 0;
    double penetration_m = 0;  // bead on thick cold plate; scatter: bead.h
    double source_sigma_m = 0; // standard deviation of the heat spread on the sheet
    double fill_s = 0;         // plug: time to fill the hole
    ArcState state;
};
// Wire or gas of the card that the shop does not have is an InputError (the plan reader has checked it).
ArcFigures arc_figures(const SettingCard& card, const Shop& shop, const Section& section);

// The wire and gas that a card names; InputError when the shop does not have it.
const Wire& find_wire(const Shop& shop, const SettingCard& card);
material::GasMixture find_gas(const Shop& shop, const SettingCard& card); // all zero for a card without gas
// What decides the arc's behaviour, with the current solved.
ArcSetting arc_setting(const SettingCard& card, const Shop& shop);

// k of P_net = k U I.
double efficiency(Process process);

} // namespace holdtrue::arc
