#include "part/mesh.h"

#include "part/grid_lines.h"
#include "part/surface.h"
#include "text/verify.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <limits>

namespace holdtrue::part {
namespace {

// How far about a hole nodes are moved, in half sides of its block.
constexpr double hole_reach = 2.2;

// Rounds the square block of a hole to a circle, and lets the nodes about it follow, less and less outwards.
class HoleShape {
public:
    HoleShape(const Panel& panel, const HoleBlock& block)
        : block_(block), quad_(segment_quad(panel, block.centre.segment)), normal_(surface_normal(panel, block.centre)),
          s_mid_(0.5 * (block.s0 + block.s1)), t_mid_(0.5 * (block.t0 + block.t1)),
          s_half_(0.5 * (block.s1 - block.s0)), t_half_(0.5 * (block.t1 - block.t0)) {
        // Never past the segment's edges, nor into another hole's reach.
        reach_ =
            std::min({hole_reach, s_mid_ / s_half_, (1 - s_mid_) / s_half_, t_mid_ / t_half_, (1 - t_mid_) / t_half_});
        for (const CutOut& other : panel.cut_outs)
            if (&other != block.cut_out)
                reach_ = std::min(reach_, 0.5 * (other.centre - block.cut_out->centre).norm() /
                                              (0.886 * std::max(other.radius_m, block.cut_out->radius_m)));
    }

    // Distance from the block's middle in its own half sides: 1 on its outline.
    double ring(const ProfileLine& u, double t) const {
        if (u.segment != block_.centre.segment)
            return std::numeric_limits<double>::infinity();
        return std::max(std::abs(u.s - s_mid_) / s_half_, std::abs(t - t_mid_) / t_half_);
    }

    // In the plane of the sheet, from the hole's centre, of the place on the block's outline in the node's direction.
    Point outline(const ProfileLine& u, double t) const {
        const double c = ring(u, t);
        const Point from_centre =
            quad_point(quad_, s_mid_ + (u.s - s_mid_) / c, t_mid_ + (t - t_mid_) / c) - block_.centre.position;
        return from_centre - normal_.dot(from_centre) * normal_;
    }

    Point shift(const ProfileLine& u, double t, double radius_m) const {
        const double c = ring(u, t);
        if (c < 1 - 1e-9 || (c > 1 + 1e-9 && c >= reach_))
            return {0, 0, 0};
        const Point from = outline(u, t);
        const double weight = c <= 1 + 1e-9 ? 1 : (reach_ - c) / (reach_ - 1);
        return weight * (radius_m * from.normalized() - from);
    }

private:
    const HoleBlock& block_;
    Quad quad_;
    Point normal_;
    double s_mid_, t_mid_, s_half_, t_half_;
    double reach_;
};

// Radius of the polygon of mesh edges that takes away as much metal as the circle does.
double polygon_radius(const std::vector<Point>& outline, double radius_m) {
    double doubled_area = 0; // for radius 1
    for (std::size_t k = 0; k < outline.size(); ++k)
        doubled_area += outline[k].normalized().cross(outline[(k + 1) % outline.size()].normalized()).norm();
    return radius_m * std::sqrt(2 * 3.14159265358979323846 / doubled_area);
}

void round_hole(Mesh& mesh, const PanelGrid& grid, const Panel& panel, const GridLines& lines, const HoleBlock& block) {
    const HoleShape shape(panel, block);
    const auto column = [&](int i) { return lines.u[static_cast<std::size_t>(i % grid.nu)]; };
    // The block's last column is the segment's end when the hole lies against it.
    const auto u_of = [&](int i) { return i == block.i1 ? ProfileLine{block.centre.segment, block.s1} : column(i); };
    const auto t_of = [&](int j) { return lines.v[static_cast<std::size_t>(j)]; };

    std::vector<Point> outline;
    for (int i = block.i0; i < block.i1; ++i)
        outline.push_back(shape.outline(u_of(i), block.t0));
    for (int j = block.j0; j < block.j1; ++j)
        outline.push_back(shape.outline(u_of(block.i1), t_of(j)));
    for (int i = block.i1; i > block.i0; --i)
        outline.push_back(shape.outline(u_of(i), block.t1));
    for (int j = block.j1; j > block.j0; --j)
        outline.push_back(shape.outline(u_of(block.i0), t_of(j)));
    const double radius_m = polygon_radius(outline, block.cut_out->radius_m);

    for (int j = 0; j < grid.nv; ++j)
        for (int i = 0; i < grid.nu; ++i)
            mesh.position_m[static_cast<std::size_t>(grid.node(i, j))] += shape.shift(u_of(i), t_of(j), radius_m);
    for (int j = block.j0; j < block.j1; ++j)
        for (int i = block.i0; i < block.i1; ++i)
            mesh.cell_alive[static_cast<std::size_t>(grid.cell(i, j))] = 0;
}

void add_panel(Mesh& mesh, const Part& part, int index, double element_scale) {
    const Panel& panel = part.panels[static_cast<std::size_t>(index)];
    const GridLines lines = grid_lines(part, index, panel.element_m.value_or(part.element_m) * element_scale);

    PanelGrid grid;
    grid.first_node = mesh.node_count();
    grid.first_cell = mesh.cell_count();
    grid.nu = static_cast<int>(lines.u.size());
    grid.nv = static_cast<int>(lines.v.size());
    grid.closed = panel.closed;
    grid.thickness_m = panel.thickness_m;

    for (const double t : lines.v)
        for (const ProfileLine& u : lines.u) {
            mesh.position_m.push_back(quad_point(segment_quad(panel, u.segment), u.s, t));
            mesh.panel_of_node.push_back(index);
        }
    for (int j = 0; j < grid.cells_v(); ++j)
        for (int i = 0; i < grid.cells_u(); ++i)
            mesh.cell_nodes.push_back(
                {grid.node(i, j), grid.node(i + 1, j), grid.node(i + 1, j + 1), grid.node(i, j + 1)});
    mesh.cell_alive.resize(mesh.cell_nodes.size(), 1);
    for (const HoleBlock& hole : lines.holes)
        round_hole(mesh, grid, panel, lines, hole);
    mesh.panels.push_back(grid);
}

Quad cell_quad(const Mesh& mesh, int cell) {
    const auto& nodes = mesh.cell_nodes[static_cast<std::size_t>(cell)];
    const auto place = [&](std::size_t k) { return mesh.position_m[static_cast<std::size_t>(nodes[k])]; };
    return {place(0), place(1), place(2), place(3)};
}

void find_normals(Mesh& mesh) {
    mesh.normal.assign(mesh.position_m.size(), Point::Zero());
    mesh.node_alive.assign(mesh.position_m.size(), 0);
    // Dead cells count only where no live one does, so that every node has a normal.
    for (const bool live : {true, false}) {
        for (int cell = 0; cell < mesh.cell_count(); ++cell) {
            if ((mesh.cell_alive[static_cast<std::size_t>(cell)] != 0) != live)
                continue;
            const Quad quad = cell_quad(mesh, cell);
            const Point area = (quad[2] - quad[0]).cross(quad[3] - quad[1]); // twice the area
            for (const int node : mesh.cell_nodes[static_cast<std::size_t>(cell)]) {
                const auto n = static_cast<std::size_t>(node);
                if (live)
                    mesh.node_alive[n] = 1;
                if (live || !mesh.node_alive[n])
                    mesh.normal[n] += area;
            }
        }
    }
    for (Point& normal : mesh.normal)
        normal = normal.norm() > 0 ? Point(normal.normalized()) : Point(0, 0, 1);
}

void find_reaches(Mesh& mesh) {
    for (int cell = 0; cell < mesh.cell_count(); ++cell) {
        const Quad quad = cell_quad(mesh, cell);
        const Point middle = 0.25 * (quad[0] + quad[1] + quad[2] + quad[3]);
        double reach_m = 0;
        for (const Point& corner : quad)
            reach_m = std::max(reach_m, (corner - middle).norm());
        mesh.cell_middle_m.push_back(middle);
        mesh.cell_reach_m.push_back(reach_m);
    }
}

} // namespace

Mesh build_mesh(const Part& part, double element_scale) {
    VERIFY(element_scale > 0, "the element scale is positive");
    Mesh mesh;
    for (int panel = 0; panel < static_cast<int>(part.panels.size()); ++panel)
        add_panel(mesh, part, panel, element_scale);
    find_normals(mesh);
    find_reaches(mesh);
    return mesh;
}

Attachment attach(const Mesh& mesh, int panel, const Point& point) {
    const PanelGrid& grid = mesh.panels[static_cast<std::size_t>(panel)];
    const int cells = grid.cells_u() * grid.cells_v();
    const auto away_m2 = [&](std::size_t cell) { return (point - mesh.cell_middle_m[cell]).squaredNorm(); };
    // The cell with the nearest middle is near enough to leave out most others.
    Attachment best;
    double nearest_m2 = std::numeric_limits<double>::infinity();
    for (int cell = grid.first_cell; cell < grid.first_cell + cells; ++cell) {
        const auto c = static_cast<std::size_t>(cell);
        if (const double m2 = away_m2(c); mesh.cell_alive[c] && m2 < nearest_m2) {
            best.cell = cell;
            nearest_m2 = m2;
        }
    }
    VERIFY(best.cell >= 0, "a panel has a live cell");
    QuadPlace best_place = nearest_on_quad(cell_quad(mesh, best.cell), point);
    best.distance_m = best_place.distance_m;
    for (int cell = grid.first_cell; cell < grid.first_cell + cells; ++cell) {
        const auto c = static_cast<std::size_t>(cell);
        // No place of a cell is nearer than its middle less its reach.
        const double within_m = best.distance_m + mesh.cell_reach_m[c];
        if (!mesh.cell_alive[c] || away_m2(c) > within_m * within_m)
            continue;
        const QuadPlace place = nearest_on_quad(cell_quad(mesh, cell), point);
        // Of places equally near the first one's.
        if (place.distance_m < best.distance_m || (place.distance_m == best.distance_m && cell < best.cell)) {
            best.cell = cell;
            best.distance_m = place.distance_m;
            best_place = place;
        }
    }
    best.node = mesh.cell_nodes[static_cast<std::size_t>(best.cell)];
    best.weight = quad_weights(best_place.xi, best_place.eta);
    best.position = best_place.position;
    return best;
}

} // namespace holdtrue::part
