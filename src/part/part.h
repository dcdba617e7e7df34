// The part: panels, joints, fixture and gauges, as a workshop would describe it. Read from a .part.toml by
// part/read_part.h; plain values, never changed once read.
//
// A panel is a ruled sheet: the surface swept by straight lines between two profiles with equal point counts,
// point k of profile_a to point k of profile_b. Plates, channels, angles, tubes and boxes (straight or tapered) are
// all panels; a closed panel joins its last profile point to its first. Profiles lie on the mid-surface of the sheet.
#pragma once

#include "text/sentence.h"

#include <Eigen/Core>

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::part {

using Point = Eigen::Vector3d; // [m]

enum class PanelKind { plate, channel, angle, box, tube };

// Metal taken away: everything of the panel inside a cylinder (round) about `centre`, square to the sheet there.
struct CutOut {
    Point centre;
    double radius_m;
    int line = 0;
};

struct Panel {
    std::string name;
    PanelKind kind = PanelKind::plate;
    std::vector<Point> profile_a, profile_b; // equal counts, >= 2 (>= 3 when closed)
    bool closed = false;
    double thickness_m = 0;
    double yield_pa = 235e6;         // at 20 C
    bool coated = false;             // galvanised, primed or painted at the joint
    std::optional<double> element_m; // overrides Part::element_m
    std::vector<CutOut> cut_outs;
    int line = 0;
};

enum class JointType { butt, fillet, lap, corner, edge, plug };

// How much of a joint a pass is: a short tack that holds, a run of the seam, or one filled plug.
enum class PassKind { tack, run, plug };

// One deposit, start to stop. `from_m` and `to_m` are distances along the joint's path, from < to; the plan says in
// which direction it is welded. For a plug both are the plug's index along the path and the path point is its centre.
struct Pass {
    std::string name; // unique in the part: "seam_top/3", "seam_top/tack2", "doubler/plug1"
    int joint = 0;
    PassKind kind = PassKind::run;
    double from_m = 0, to_m = 0;
    int layer = 0; // 0 is the root; a layer is welded after the ones below it
};

struct Joint {
    std::string name;
    JointType type = JointType::fillet;
    int panel_a = 0, panel_b = 0; // indices; panel_a is the one the weld is laid on (the web side for a tee)
    std::vector<Point> path;      // polyline along the weld; plug: one point per plug
    bool closed_path = false;
    double size_m = 0; // leg of a fillet or lap, throat of a corner or edge, depth of a butt, hole of a plug
    double root_gap_m = 0;
    bool tacked = false; // comes tacked from the fixture; otherwise its tacks are passes of the plan
    std::vector<std::string> positions_reachable; // names of poses in which the joint can be welded; empty: all
    std::string card_group; // the group of joints one setting card serves, by default the joint's own name
    int line = 0;
};

// A way to set the part down: `up` in part coordinates points to the ceiling.
struct Pose {
    std::string name;
    Point up{0, 0, 1};
    int line = 0;
};

// A clamp or fixture stop. It holds the directions of `holds` where it presses, until it is freed, and drains heat.
struct Clamp {
    std::string name;
    int panel = 0;
    Point at;
    std::array<bool, 3> holds{true, true, true}; // x, y, z of the part
    double contact_area_m2 = 0;
    double contact_w_per_m2k = 0; // conductance of the pressed contact to a heavy block at ambient temperature
    bool fixed_at_start = true;
    int line = 0;
};

struct Fixture {
    std::string name;
    bool turns_with_part = false; // a positioner: the part can be turned while clamped
    double turn_s = 60;           // time one turn takes
    double clamp_s = 15;          // time to fix or free one clamp
};

enum class GaugeKind { distance, bow, twist, squareness, flatness, angle, tilt };

// One measure taken on the finished part, from points that ride on its panels (see part/gauge.h for the formulas).
// nominal, and the allowed band about it, are metres, or radians for twist, angle and tilt.
struct Gauge {
    std::string name;
    std::string title; // what a person calls it: "pivot to pivot"
    GaugeKind kind = GaugeKind::distance;
    std::vector<int> panel;   // panel of each point
    std::vector<Point> point; // as drawn
    Point direction{0, 0, 1}; // the sense in which bow is counted positive; twist: axis
    double tolerance = 0;     // allowed each side of nominal; from the file, or from the ISO 13920 class named there
    text::Sentence tolerance_source; // "own limit" or "ISO 13920 class B, 400 to 1000 mm"
    int line = 0;
};

struct Part {
    std::string name, title;
    std::filesystem::path file;
    std::string steel = "S235"; // name of the base metal; its temperature curves are material/steel.h
    double ambient_k = 293.15;
    double element_m = 0.010; // target edge of a mesh cell
    std::vector<Panel> panels;
    std::vector<Joint> joints;
    std::vector<Pass> passes; // of all joints, in the order of the file; a Plan refers to them by index
    std::vector<Pose> poses;  // at least one; the first is the one the job starts in
    std::vector<Clamp> clamps;
    Fixture fixture;
    std::vector<Gauge> gauges;
};

// Index by name, or -1.
int find_panel(const Part& part, std::string_view name);
int find_joint(const Part& part, std::string_view name);
int find_pass(const Part& part, std::string_view name);
int find_pose(const Part& part, std::string_view name);
int find_clamp(const Part& part, std::string_view name);
int find_gauge(const Part& part, std::string_view name);

// A point of a joint's path at a distance along it (closed paths wrap), and the unit tangent there. For a plug joint
// `along_m` is the plug's index; its length is 0.
Point path_point(const Joint& joint, double along_m);
Point path_tangent(const Joint& joint, double along_m);
double path_length_m(const Joint& joint);

} // namespace holdtrue::part
