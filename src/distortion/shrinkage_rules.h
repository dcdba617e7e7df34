// How much a weld shrinks across itself and by what angle it bends a plate, from published rules. They rest on
// measurements of plates mostly thicker than 6 mm and disagree by a factor of two and more: each figure comes with the
// span of all the rules that speak of its kind of joint, and a case may choose another rule.
#pragma once

#include "part/part.h"

#include <array>
#include <string_view>

namespace holdtrue::distortion {

// One member beside one pass, as the rules see it.
struct PassOnMember {
    part::JointType type = part::JointType::fillet;
    double thickness_m = 0;       // of the member
    double deposit_area_m2 = 0;   // of the pass: the part of it that counts for this member
    double leg_m = 0;             // fillet, lap
    double root_gap_m = 0;        // butt
    double heat_j_per_m = 0;      // net, that goes into this member
    double pass_heat_j_per_m = 0; // net, of the whole pass
    double travel_m_per_s = 0.006;
    bool through = false; // the member goes on beyond the weld line, as the flange of a tee
};

struct Figure {
    double value = 0;           // [m] or [rad]
    double least = 0, most = 0; // span of the rules that apply, the value included
};

// Rules for shrinkage across one member [m], S; q heat, A deposit, t thickness, d gap, z leg:
//   contraction  alpha q / (rho c t)       the spread of free edges, taken back once they are joined
//   tenth        0.10 A / t                O. W. Blodgett (formula seen as quoted), butts
//   malisius     0.18 A / t                W. Malisius, constants 0.16 to 0.20 (from memory), butts
//   spraragen    0.20 A / t + 0.05 d / 2   Spraragen and Ettinger 1950 (from memory), butts; d / 2 for each member
//   leg          0.51 mm z / t             K. Masubuchi after Cline: a tee's two fillets 1.02 mm z / t, z <= 0.75 t
//                0.76 mm z / t             the same, a lap's two fillets 1.52 mm z / t (from memory)
// For a butt A is half the deposit for each member, so that the two sum to the published figure.
enum class AcrossRule { contraction, tenth, malisius, spraragen, leg };

// Rules for the angle a pass kinks one member by [rad], towards the weld. A member that ends at the weld line takes
// half of the kink of a whole plate.
//   solid        f(q / t^2, v t)           q of the whole pass. A bead on one face of a sound, free plate, our own runs
//                                          in a general finite-element code (tests/reference) of 3 to 8 mm at 6 mm/s;
//                                          by similarity, v t of 18 to 48 mm2/s. The rise with heat to a level, and the
//                                          fall where a plate is heated through, are those of Watanabe and Satoh
//   foot         f(q / t^2, v t)           the same for the first fillet of a tee, turn of the wing beside it: the
//                                          web draws heat off and holds the flange's middle, so that thin flanges kink
//                                          less with little heat, and more with much
//   flange       0.02 z^1.3 / t^2 [inch]   O. W. Blodgett's tilt of a flange under fillets, 0.02 W z^1.3 / t^2, over
//                                          its width W (from memory; it may be meant over W / 2: twice the angle); 6 mm
//                                          and more
//   wedge        12 S e / t^2              shrinkage S of the member at the distance e of the deposit from mid-plane
//                                          (mechanics); with S of the rule `tenth`, e = t / 6, as in a vee
enum class AngleRule { solid, foot, flange, wedge };

struct RuleNote {
    std::string_view name, formula, source, valid;
};
inline constexpr std::array all_across_rules{AcrossRule::contraction, AcrossRule::tenth, AcrossRule::malisius,
                                             AcrossRule::spraragen, AcrossRule::leg};
inline constexpr std::array all_angle_rules{AngleRule::solid, AngleRule::foot, AngleRule::flange, AngleRule::wedge};
RuleNote note(AcrossRule rule);
RuleNote note(AngleRule rule);

bool applies(AcrossRule rule, const PassOnMember& pass);
bool applies(AngleRule rule, const PassOnMember& pass);
double across_m(AcrossRule rule, const PassOnMember& pass);
double angle_rad(AngleRule rule, const PassOnMember& pass);

// Used unless a case chooses otherwise. Across: `tenth`; for butts it lies in the middle of the others, for fillets
// between the least possible and what is measured on thick plates, and it follows the metal laid, which a welder sees.
// Angle: `foot` for what a fillet's web stands on, else `solid`, because the others were measured on thick plates and
// give thin ones five times too much.
AcrossRule usual_across_rule(part::JointType type);
AngleRule usual_angle_rule(const PassOnMember& pass);

Figure across(const PassOnMember& pass, AcrossRule rule);
Figure angle(const PassOnMember& pass, AngleRule rule);

// An angle where the pass starts on warm metal, K; up to 220 C. Our own runs (tests/reference): the first fillet of a
// tee of 5 mm kinks 6 % more for every 100 K, beads on plates of 3 to 8 mm between 21 % less (where they are heated
// through anyway) and 27 % more (where they hardly yield when cold).
Figure warmed(const Figure& angle_rad, double start_k);

} // namespace holdtrue::distortion
