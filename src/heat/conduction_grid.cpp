#include "heat/conduction_grid.h"

#include <array>
#include <cmath>

namespace holdtrue::heat {
namespace {

constexpr int align = 8;
constexpr double straight = 1e-9; // diagonals weaker than this share of a cell's links are rounding

int rounded_up(int count) { return (count + align - 1) / align * align; }

struct CellShape {
    // Links along the sides 01, 12, 23, 30 and the diagonals 02, 13, and the area about each corner.
    std::array<double, 4> side{}, corner_area{};
    std::array<double, 2> diagonal{};
};

// Per unit thickness.
CellShape shape_of(const std::array<part::Point, 4>& corner) {
    CellShape shape;
    for (std::size_t c = 0; c < 4; ++c) {
        const std::size_t next = (c + 1) % 4, last = (c + 3) % 4;
        const part::Point a = corner[next] - corner[c], b = corner[last] - corner[c];
        const double aa = a.dot(a), ab = a.dot(b), bb = b.dot(b);
        const double root = std::sqrt(std::max(aa * bb - ab * ab, 1e-12 * aa * bb));
        shape.corner_area[c] = root / 4;
        // d^T G^-1 d with d_a d_b = (d_a^2 + d_b^2 - (d_a - d_b)^2) / 2
        shape.side[c] += (bb - ab) / (4 * root);
        shape.side[last] += (aa - ab) / (4 * root);
        shape.diagonal[c % 2 == 0 ? 1 : 0] += ab / (4 * root);
    }
    return shape;
}

} // namespace

PanelView ConductionGrid::view(std::size_t panel, const std::vector<double>& inverse_volume_per_m3) const {
    const PanelSlots& p = panels[panel];
    return {&east_m[p.first],
            &north_m[p.first],
            &north_east_m[p.first],
            &north_west_m[p.first],
            &face_m2[p.first],
            &inverse_volume_per_m3[p.first],
            p.count,
            p.stride,
            p.skewed};
}

ConductionGrid assemble(const part::Mesh& mesh) {
    ConductionGrid grid;
    grid.slot_of_node.resize(mesh.node_count());
    for (const part::PanelGrid& panel : mesh.panels) {
        const int gap = rounded_up(panel.nu + 1);
        ConductionGrid::PanelSlots slots;
        slots.first = grid.slot_count + gap;
        slots.count = panel.nu * panel.nv;
        slots.stride = panel.nu;
        for (int k = 0; k < slots.count; ++k)
            grid.slot_of_node[panel.first_node + k] = slots.first + k;
        grid.slot_count = slots.first + rounded_up(slots.count) + gap;
        grid.panels.push_back(slots);
    }
    for (auto* values :
         {&grid.east_m, &grid.north_m, &grid.north_east_m, &grid.north_west_m, &grid.face_m2, &grid.volume_m3})
        values->assign(grid.slot_count, 0.0);

    for (std::size_t p = 0; p < mesh.panels.size(); ++p) {
        const part::PanelGrid& panel = mesh.panels[p];
        const double t = panel.thickness_m;
        const auto link = [&](std::vector<double>& column, int a, int b, int expected, double conductance_m) {
            if (b - a == expected)
                column[a] += conductance_m;
            else // across the seam of a closed panel
                grid.seam.push_back({a, b, conductance_m});
        };
        for (int j = 0; j < panel.cells_v(); ++j)
            for (int i = 0; i < panel.cells_u(); ++i) {
                const int cell = panel.cell(i, j);
                if (!mesh.cell_alive[cell])
                    continue;
                std::array<int, 4> slot{};
                std::array<part::Point, 4> corner;
                for (std::size_t c = 0; c < 4; ++c) {
                    slot[c] = grid.slot_of_node[mesh.cell_nodes[cell][c]];
                    corner[c] = mesh.position_m[mesh.cell_nodes[cell][c]];
                }
                const CellShape shape = shape_of(corner);
                for (std::size_t c = 0; c < 4; ++c) {
                    grid.face_m2[slot[c]] += shape.corner_area[c];
                    grid.volume_m3[slot[c]] += shape.corner_area[c] * t;
                }
                link(grid.east_m, slot[0], slot[1], 1, t * shape.side[0]);
                link(grid.north_m, slot[1], slot[2], panel.nu, t * shape.side[1]);
                link(grid.east_m, slot[3], slot[2], 1, t * shape.side[2]);
                link(grid.north_m, slot[0], slot[3], panel.nu, t * shape.side[3]);
                const double total = shape.side[0] + shape.side[1] + shape.side[2] + shape.side[3];
                if (std::abs(shape.diagonal[0]) + std::abs(shape.diagonal[1]) < straight * total)
                    continue;
                grid.panels[p].skewed = true;
                link(grid.north_east_m, slot[0], slot[2], panel.nu + 1, t * shape.diagonal[0]);
                link(grid.north_west_m, slot[1], slot[3], panel.nu - 1, t * shape.diagonal[1]);
            }
    }
    return grid;
}

} // namespace holdtrue::heat
