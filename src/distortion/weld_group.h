// Passes cut into groups: the pieces in which metal is laid, takes hold and shrinks. A pass has up to
// `groups_per_pass`, a tack or a plug one.
//
// A group ties its two panels by stiff springs on averages over its chain of points: three displacements of panel b
// against panel a (along the weld, opening, and square to both) and the rotation about the weld (a plug: about two
// axes in the sheet). A group without neighbours in its pass also holds the slope of the last two displacements along
// the weld, so that two tacks hold a bush. Before it is laid, its opening is where faces may touch but not cross.
//
// Where one panel stands on the face of the other, a tie holds the slope of the latter at the middle of the foot: the
// fillets on the two sides of a foot hold the same place of it, and the sheet between them, which is one with the foot,
// is no beam between two supports that would hold back what either fillet bends. The panel that goes on both ways past
// the other is the one that is stood on: a bush is met by the edge of its hole, and slides in it until it is tacked.
#pragma once

#include "distortion/linear_row.h"

#include <optional>

namespace holdtrue::distortion {

struct GroupSettings {
    int groups_per_pass = 3;
    double group_m = 0.030; // a pass is cut into pieces of about this length, but no more than groups_per_pass
    // A piece turns by no more than this, or groups_per_pass pieces: the tilt of a bush welded in quarters is far off
    // with one piece for each (2.2 mrad on the lift arm, against 0.45 with three and with four).
    double group_turn_rad = 0.6;
    double tack_pitch_m = 0.1; // of the tacks of a joint that comes tacked from the fixture
    double tack_m = 0.012;     // length of those
};

struct WeldPoint {
    double along_m = 0; // on the joint's path
    part::Point place;
    part::Point tangent; // along the path
    part::Point opening; // unit, from panel a to panel b: the faces part along it
    // A fillet: the panel, a or b, on whose face the other one stands.
    enum class StoodOn { none, a, b } stood_on = StoodOn::none;
    Grip on_a, on_b;
};

struct WeldGroup {
    int pass = -1; // index into Part::passes; -1: a tack that came with the part
    int joint = 0;
    part::PassKind kind = part::PassKind::run;
    bool alone = false;          // the only group of its pass
    double from_m = 0, to_m = 0; // along the joint's path; a plug: its index, twice
    double length_m = 0;         // a plug: its diameter
    std::vector<WeldPoint> points;
    // Rows of the part model: `tie_count` of them from `first_tie`, the second is the opening; their springs.
    int first_tie = 0, tie_count = 0;
    int strain = 0; // row that reads the strain along the weld, mean over the metal of its strips

    int opening() const { return first_tie + 1; }
    std::vector<int> tie_rows() const;
};

// Groups of all passes (those of one pass in a row, from from_m to to_m), then those of ready-made tacks. The rows'
// indices are left for the part model to fill in.
std::vector<WeldGroup> weld_groups(const part::Part& part, const part::Mesh& mesh, const GroupSettings& settings);

// What a later group's strips cover of an earlier one's, 0 to 1; widths on each side of the weld, that of `under` above
// 0.
double covered_share(const WeldGroup& under, double under_half_width_m, const WeldGroup& over,
                     double over_half_width_m);

struct Tie {
    LinearRow row;
    double stiffness; // [N/m] or [N m/rad]
};
std::vector<Tie> ties(const WeldGroup& group, double thinner_m, double young_pa);

} // namespace holdtrue::distortion
