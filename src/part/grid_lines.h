// Where the grid lines of a panel run: always through its profile corners, then through the square blocks of cells
// that stand for its cut-outs, then along the joints that run parallel to the grid, with evenly spaced lines between.
#pragma once

#include "part/surface.h"

#include <vector>

namespace holdtrue::part {

struct ProfileLine { // a ruling of the panel, from profile_a to profile_b
    int segment = 0;
    double s = 0;
};

// The block of cells [i0, i1) x [j0, j1) that a cut-out takes; s and t of its outline on the segment.
struct HoleBlock {
    const CutOut* cut_out = nullptr;
    SurfacePlace centre;
    int i0 = 0, i1 = 0, j0 = 0, j1 = 0;
    double s0 = 0, s1 = 0, t0 = 0, t1 = 0;
};

struct GridLines {
    std::vector<ProfileLine> u; // node columns; a closed panel does not repeat its first
    std::vector<double> v;      // node rows, 0 to 1
    std::vector<HoleBlock> holes;
};

// element_m > 0: the spacing aimed at. Wanted lines that would leave a strip under 0.4 of it are left out. A fillet's
// line on a sheet is the middle of what stands there where the mesh is too coarse to tell the two sides of it apart.
GridLines grid_lines(const Part& part, int panel, double element_m);

// How many cells that is, about: without what cut-outs and joints change.
double expected_cells(const Panel& panel, double element_m);

} // namespace holdtrue::part
