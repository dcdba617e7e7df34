// The section that strips divide: one plate, or two members that meet at a weld line, unfolded into a chain across
// which heat flows. Strips are finest at the weld lines. Each strip runs along the weld and carries axial stress only.
#pragma once

#include <vector>

namespace holdtrue::distortion {

struct Strip {
    double at_m = 0;    // centre, along the chain
    double width_m = 0; // along the chain
    double thickness_m = 0;
    double lever_m = 0; // arm about the axis of bending (same sense as at_m for a flat plate)
    double yield_pa = 0;

    double area_m2() const { return width_m * thickness_m; }
};

struct Grading {
    double finest_m = 0.0008; // at a weld line; halving it moves a tendon force by less than 0.5 %
    double growth = 0.10;     // gain of strip width per distance from it
};

struct StripSection {
    std::vector<Strip> strips;
};

struct Member {
    double thickness_m = 0;
    double width_m = 0; // from the weld line to the far edge, or to the middle of the way to the next stiff thing
    double yield_pa = 235e6;
    // The member passes the weld line and goes on as far on its other side, as the flange of a tee: its two halves
    // share the heat alike and are taken together, at twice the thickness.
    bool both_sides = false;
    friend bool operator==(const Member&, const Member&) = default;
};

// A flat plate from at = 0 to its width, fine at the weld lines named.
StripSection plate_section(double width_m, double thickness_m, double yield_pa, const std::vector<double>& weld_lines_m,
                           const Grading& grading = {});

// Member a from -width to 0, member b from 0 to its width; the weld line is 0. With `b_across` the lever arm of b is
// zero all over: b lies across the plane of a, as the flange of a tee does.
StripSection joint_section(const Member& a, const Member& b, bool b_across, const Grading& grading = {});

} // namespace holdtrue::distortion
