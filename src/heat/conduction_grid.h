// The conduction operator of a mesh: shape conductances and capacities of bilinear quads.
//
// Each cell is integrated at its four corners. At a corner with edges a, b (vectors) of the cell, the sheet of
// thickness t holds the quadratic form  t/4 sqrt(det G) d^T G^-1 d,  G = [a.a a.b; a.b b.b], d = differences of theta
// along a and b. It splits into links between pairs of nodes, so that the operator is symmetric and conserves heat to
// the last bit of each link. Rectangles give the five-point scheme; skewed cells add their diagonals. Capacities are
// lumped at the corners by the same rule.
#pragma once

#include "heat/stage_kernel.h"
#include "part/mesh.h"

#include <vector>

namespace holdtrue::heat {

struct Link {
    int a, b;             // slots
    double conductance_m; // heat flow [W] = conductance_m (theta_b - theta_a)
};

// Values live in slots: the nodes of each panel in mesh order, with zeros between the panels, so that the sweep may
// look at neighbours that do not exist.
struct ConductionGrid {
    struct PanelSlots {
        int first = 0, count = 0, stride = 0;
        bool skewed = false;
    };
    std::vector<PanelSlots> panels;
    std::vector<int> slot_of_node; // node_count
    int slot_count = 0;

    std::vector<double> east_m, north_m, north_east_m, north_west_m; // slot_count; see PanelView
    std::vector<double> face_m2, volume_m3;                          // slot_count; 0 for dead nodes and gaps
    std::vector<Link> seam;                                          // of closed panels: last column to first

    PanelView view(std::size_t panel, const std::vector<double>& inverse_volume_per_m3) const;
};

ConductionGrid assemble(const part::Mesh& mesh);

} // namespace holdtrue::heat
