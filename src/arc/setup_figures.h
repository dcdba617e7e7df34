// Everything that follows from a setting card on one joint, in one place: what the command line and the window show,
// and what the rules are judged on.
#pragma once

#include "arc/arc.h"
#include "arc/cooling_time.h"
#include "arc/fusion.h"
#include "arc/preheat.h"

#include <optional>

namespace holdtrue::arc {

struct SetupFigures {
    ArcSetting setting;
    ArcFigures arc;
    Members members;
    CoolingTime cooling;            // in the thicker member, which cools fastest
    std::optional<Preheat> preheat; // mild steel of a known grade
    std::string gas_group;
    double load_volts_v = 0;
    double governing_thickness_m = 0; // which the current goes by
    double wanted_leg_m = 0;          // as asked, or as usual for the thickness; 0 where there is no leg
    double joint_area_m2 = 0;         // metal the joint wants per length; 0: plug
    int passes = 1;
    double total_leg_m = 0;     // after all passes
    std::optional<double> duty; // share of 10 min at this current
    // For Section::length_m, or one metre (one plug).
    double length_m = 1;
    double arc_time_s = 0, wire_kg = 0, gas_m3 = 0, gas_flow_m3_per_s = 0;
    std::optional<double> cost; // in Shop::currency, when the shop knows a price
};
SetupFigures setup_figures(const SettingCard& card, const Shop& shop, const Section& section);

// The thickness that sets the current: equal members, theirs; unequal, the mean, at most 1.5 times the thinner
// (common practice, no source: more than the thin sheet alone bears, less than the thick one would like).
double governing_thickness_m(const Section& section);
// Leg of a fillet, lap or corner that suits the members when none is asked: 1.6 mm + 0.75 t up to 6 mm, then 6 mm and
// more passes (common practice, no source; it follows from practice bands of feed and travel); 8 mm above 19 mm.
double usual_leg_m(const Section& section);
// Cross-section of a butt's groove: b t for square edges, b t + (t - c)^2 tan(angle / 2) for a V (ISO 9692-1 names).
double groove_area_m2(const Section& section);
// A V with a gap of 1 mm or more and nothing behind it: its first pass bridges the gap.
bool has_open_root(const Section& section);

} // namespace holdtrue::arc
