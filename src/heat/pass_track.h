// Where a pass touches the mesh: places along its path with the nearest place of each of the two panels, and the
// bridges by which the panels conduct once the pass is laid.
#pragma once

#include "heat/conduction.h"
#include "part/mesh.h"

#include <array>
#include <vector>

namespace holdtrue::heat {

struct TrackPoint {
    double along_m = 0; // from Pass::from_m; 0 for a plug
    part::Point point;
    std::array<part::Attachment, 2> on; // panel_a, panel_b
};

struct PassTrack {
    std::array<int, 2> panel{};
    double length_m = 0;            // 0 for a plug
    std::vector<TrackPoint> points; // one, or both ends and what lies between, equally spaced

    part::Point torch(double along_m) const;
    part::Point foot(int member, double along_m) const; // the place of that panel under the torch
};

// Spacing: half an element of the finer of the two panels.
PassTrack track(const part::Part& part, const part::Mesh& mesh, int pass);

// Longest edge of a cell.
double cell_size_m(const part::Mesh& mesh, int cell);

// The bead as a conductor between the panels' mid-surfaces. A run or tack conducts through its throat over a way of
// one throat (butt, corner, edge) or one leg, sqrt(2) throats (fillet, lap): about as wide as long, so that the sheets
// themselves, which the heat crosses for many thicknesses, decide. A plug conducts through its hole's area, over half
// of each thickness. The bridge of a run stands for the part of the run about its track point.
double bridge_conductance_per_m(const part::Joint& joint);                             // of a run, per metre
double bridge_conductance_m(const part::Part& part, const part::Mesh& mesh, int pass); // of a plug, whole
std::vector<Bridge> bridges(const part::Part& part, const part::Mesh& mesh, int pass, const PassTrack& track,
                            double throat_m);

// The live nodes of both panels within the distance of ISO 13916 from the pass: four thicknesses, at most 50 mm (from
// memory), and never less than one cell.
std::vector<int> nodes_along(const part::Mesh& mesh, const PassTrack& track);

} // namespace holdtrue::heat
