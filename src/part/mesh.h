// The structured quad mesh of a part: one grid per panel, meshed independently of its neighbours, so that panels
// meet only through welds. Heat and distortion share this mesh.
//
// Node (i, j) of a panel: i runs along the profile (0 .. nu-1), j from profile_a (0) to profile_b (nv-1); its index
// is first_node + j * nu + i. A closed panel has nu cells around (i wraps), an open one nu - 1. Profile corners are
// always grid lines, and joints that run parallel to the grid are where there is room. A block of cells in place of
// each cut-out is dead; the nodes on its outline are moved to the hole's edge (onto a polygon of the hole's area) and
// those about it follow.
#pragma once

#include "part/part.h"

#include <array>
#include <cstdint>
#include <vector>

namespace holdtrue::part {

struct PanelGrid {
    int first_node = 0;
    int nu = 0, nv = 0; // nodes along and across
    bool closed = false;
    double thickness_m = 0;
    int first_cell = 0; // cell (i, j) is first_cell + j * cells_u() + i

    int cells_u() const { return closed ? nu : nu - 1; }
    int cells_v() const { return nv - 1; }
    int node(int i, int j) const { return first_node + j * nu + (closed && i == nu ? 0 : i); }
    int cell(int i, int j) const { return first_cell + j * cells_u() + i; }
};

struct Mesh {
    std::vector<PanelGrid> panels;
    std::vector<Point> position_m;              // node_count
    std::vector<Point> normal;                  // node_count, unit, mean of the live cells about the node
    std::vector<int> panel_of_node;             // node_count
    std::vector<std::array<int, 4>> cell_nodes; // cell_count; (i,j) (i+1,j) (i+1,j+1) (i,j+1)
    std::vector<std::uint8_t> cell_alive;       // cell_count; 0 inside a cut-out
    std::vector<Point> cell_middle_m;           // cell_count; mean of its corners
    std::vector<double> cell_reach_m;           // cell_count; from there to its farthest corner
    std::vector<std::uint8_t> node_alive;       // node_count; 0 where no live cell touches it
    int node_count() const { return static_cast<int>(position_m.size()); }
    int cell_count() const { return static_cast<int>(cell_nodes.size()); }
};

// element_scale multiplies every panel's element size: 0.5 halves them.
Mesh build_mesh(const Part& part, double element_scale = 1.0);

// A place on a panel, as a weighted mean of the nodes of one live cell. The weights are >= 0 and sum to 1.
struct Attachment {
    int cell = -1;
    std::array<int, 4> node{};
    std::array<double, 4> weight{};
    Point position;    // the nearest place on the mesh
    double distance_m; // from the asked point to `position`
};
Attachment attach(const Mesh& mesh, int panel, const Point& point);

// Weighted mean over an attachment of any per-node array.
template <class Value>
Value at(const Attachment& place, const std::vector<Value>& per_node) {
    Value sum = per_node[static_cast<std::size_t>(place.node[0])] * place.weight[0];
    for (std::size_t k = 1; k < 4; ++k)
        sum += per_node[static_cast<std::size_t>(place.node[k])] * place.weight[k];
    return sum;
}

} // namespace holdtrue::part
