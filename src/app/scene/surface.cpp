#include "app/scene/surface.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>

namespace holdtrue::app::scene {

namespace {

using Index = std::size_t;
constexpr double smooth_cosine = 0.94; // a node normal within 20 degrees of the cell's is shared: no crease

struct Builder {
    const part::Mesh& mesh;
    std::vector<part::Point> place;  // node_count, displaced
    std::vector<part::Point> normal; // node_count, of the displaced panels
    Surface surface;
    // 2 node_count: the vertex over and under each node that smooth cells share, once there is one; else `none`.
    std::vector<std::uint32_t> shared;
    static constexpr std::uint32_t none = ~0u;

    part::Point cell_normal(int cell) const {
        const auto& n = mesh.cell_nodes[Index(cell)];
        const part::Point d1 = place[Index(n[2])] - place[Index(n[0])], d2 = place[Index(n[3])] - place[Index(n[1])];
        const part::Point cross = d1.cross(d2);
        const double length = cross.norm();
        return length > 0 ? part::Point(cross / length) : part::Point(mesh.normal[Index(n[0])]);
    }

    // Mean of the live cells' normals about each node.
    void find_normals() {
        normal.assign(place.size(), part::Point::Zero());
        for (int cell = 0; cell < mesh.cell_count(); ++cell) {
            if (!mesh.cell_alive[Index(cell)])
                continue;
            const part::Point direction = cell_normal(cell);
            for (const int node : mesh.cell_nodes[Index(cell)])
                normal[Index(node)] += direction;
        }
        for (Index k = 0; k < normal.size(); ++k)
            normal[k] = normal[k].norm() > 1e-12 ? part::Point(normal[k].normalized()) : mesh.normal[k];
    }

    // A face's point above a node: at a corner the two faces meet on the mitre.
    part::Point raised(int node, const part::Point& cell_direction, double height_m) const {
        const double cosine = std::max(normal[Index(node)].dot(cell_direction), 0.5);
        return place[Index(node)] + normal[Index(node)] * (height_m / cosine);
    }

    std::uint32_t add_vertex(const part::Point& at, const part::Point& facing, int node) {
        surface.position.push_back(at.cast<float>());
        surface.normal.push_back(facing.cast<float>());
        surface.node.push_back(node);
        return static_cast<std::uint32_t>(surface.position.size() - 1);
    }

    void add_quad(const std::array<std::uint32_t, 4>& v, int cell) {
        for (const int k : {0, 1, 2, 0, 2, 3})
            surface.triangle.push_back(v[Index(k)]);
        surface.cell_of_triangle.insert(surface.cell_of_triangle.end(), 2, cell);
    }

    void add_faces(int cell, double half_m) {
        const auto& nodes = mesh.cell_nodes[Index(cell)];
        const part::Point up = cell_normal(cell);
        for (const double side : {1.0, -1.0}) {
            std::array<std::uint32_t, 4> v{};
            for (Index k = 0; k < 4; ++k) {
                const int node = nodes[side > 0 ? k : 3 - k]; // keeps the winding outwards
                const bool smooth = normal[Index(node)].dot(up) > smooth_cosine;
                if (!smooth) {
                    v[k] = add_vertex(raised(node, up, side * half_m), side * up, node);
                    continue;
                }
                std::uint32_t& vertex = shared[2 * Index(node) + (side > 0 ? 0 : 1)];
                if (vertex == none)
                    vertex = add_vertex(raised(node, up, side * half_m), side * normal[Index(node)], node);
                v[k] = vertex;
            }
            add_quad(v, cell);
        }
    }

    void add_wall(int cell, int a, int b, double half_m) {
        const part::Point up = cell_normal(cell);
        const part::Point low_a = raised(a, up, -half_m), high_a = raised(a, up, half_m);
        const part::Point low_b = raised(b, up, -half_m), high_b = raised(b, up, half_m);
        const part::Point along = place[Index(b)] - place[Index(a)];
        const part::Point out = along.cross(up).normalized();
        add_quad({add_vertex(low_a, out, a), add_vertex(low_b, out, b), add_vertex(high_b, out, b),
                  add_vertex(high_a, out, a)},
                 cell);
        for (const part::Point& point : {low_a, low_b, high_a, high_b})
            surface.outline.push_back(point.cast<float>());
    }

    void add_crease(int cell, int a, int b, double half_m) {
        const part::Point up = cell_normal(cell);
        for (const double side : {half_m, -half_m})
            for (const int node : {a, b})
                surface.outline.push_back(raised(node, up, side).cast<float>());
    }

    // The cell across side k (node k to node k + 1) of cell (i, j), or -1.
    static int neighbour(const part::PanelGrid& grid, int i, int j, int k) {
        constexpr int di[4]{0, 1, 0, -1}, dj[4]{-1, 0, 1, 0};
        int ni = i + di[k];
        const int nj = j + dj[k];
        if (grid.closed)
            ni = (ni + grid.cells_u()) % grid.cells_u();
        return ni < 0 || ni >= grid.cells_u() || nj < 0 || nj >= grid.cells_v() ? -1 : grid.cell(ni, nj);
    }

    void add_panel(const part::PanelGrid& grid) {
        const double half_m = grid.thickness_m / 2;
        for (int j = 0; j < grid.cells_v(); ++j)
            for (int i = 0; i < grid.cells_u(); ++i) {
                const int cell = grid.cell(i, j);
                if (!mesh.cell_alive[Index(cell)])
                    continue;
                add_faces(cell, half_m);
                for (int k = 0; k < 4; ++k) {
                    const auto& nodes = mesh.cell_nodes[Index(cell)];
                    const int other = neighbour(grid, i, j, k);
                    const int a = nodes[Index(k)], b = nodes[Index((k + 1) % 4)];
                    if (other < 0 || !mesh.cell_alive[Index(other)])
                        add_wall(cell, a, b, half_m);
                    else if (other > cell && cell_normal(cell).dot(cell_normal(other)) < 0.8)
                        add_crease(cell, a, b, half_m);
                }
            }
    }
};

} // namespace

std::vector<part::Point> displaced(const part::Mesh& mesh, std::span<const Eigen::Vector3f> displacement_m,
                                   double exaggeration) {
    std::vector<part::Point> place = mesh.position_m;
    if (displacement_m.size() == place.size())
        for (Index k = 0; k < place.size(); ++k)
            place[k] += exaggeration * displacement_m[k].cast<double>();
    return place;
}

Surface build_surface(const part::Mesh& mesh, std::span<const Eigen::Vector3f> displacement_m, double exaggeration) {
    Builder builder{mesh, displaced(mesh, displacement_m, exaggeration), {}, {}, {}};
    builder.find_normals();
    builder.shared.assign(2 * builder.place.size(), Builder::none);
    for (const part::PanelGrid& grid : mesh.panels)
        builder.add_panel(grid);
    return std::move(builder.surface);
}

Box bounds(const part::Mesh& mesh) {
    Box box;
    for (Index k = 0; k < mesh.position_m.size(); ++k)
        if (mesh.node_alive[k])
            box.add(mesh.position_m[k]);
    return box;
}

} // namespace holdtrue::app::scene
