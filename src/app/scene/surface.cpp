#include "app/scene/surface.h"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <utility>

namespace holdtrue::app::scene {

namespace {

using Index = std::size_t;
constexpr double smooth_cosine = 0.94; // a node normal within 20 degrees of the cell's is shared: no crease

struct Builder {
    const part::Mesh& mesh;
    std::vector<part::Point> place;  // node_count, displaced
    std::vector<part::Point> up;     // cell_count, normal of each displaced cell; zero where it is dead
    std::vector<part::Point> normal; // node_count, of the displaced panels
    std::vector<double> mitre;       // node_count: how much farther along it a face lies than off a flat panel
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
        up.assign(Index(mesh.cell_count()), part::Point::Zero());
        normal.assign(place.size(), part::Point::Zero());
        for (int cell = 0; cell < mesh.cell_count(); ++cell) {
            if (!mesh.cell_alive[Index(cell)])
                continue;
            up[Index(cell)] = cell_normal(cell);
            for (const int node : mesh.cell_nodes[Index(cell)])
                normal[Index(node)] += up[Index(cell)];
        }
        mitre.assign(place.size(), 0);
        std::vector<int> cells(place.size(), 0);
        for (Index k = 0; k < normal.size(); ++k)
            normal[k] = normal[k].norm() > 1e-12 ? part::Point(normal[k].normalized()) : mesh.normal[k];
        for (int cell = 0; cell < mesh.cell_count(); ++cell)
            if (mesh.cell_alive[Index(cell)])
                for (const int node : mesh.cell_nodes[Index(cell)]) {
                    mitre[Index(node)] += normal[Index(node)].dot(up[Index(cell)]);
                    ++cells[Index(node)];
                }
        for (Index k = 0; k < mitre.size(); ++k)
            mitre[k] = 1 / std::max(cells[k] > 0 ? mitre[k] / cells[k] : 1.0, 0.5);
    }

    // A face's point above a node. All faces there meet in it, to the last bit, or light would come through the crack.
    part::Point raised(int node, double height_m) const {
        return place[Index(node)] + normal[Index(node)] * (height_m * mitre[Index(node)]);
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

    void add_face(int cell, double side, double half_m) {
        const auto& nodes = mesh.cell_nodes[Index(cell)];
        std::array<std::uint32_t, 4> v{};
        for (Index k = 0; k < 4; ++k) {
            const int node = nodes[side > 0 ? k : 3 - k]; // keeps the winding outwards
            const bool smooth = normal[Index(node)].dot(up[Index(cell)]) > smooth_cosine;
            if (!smooth) {
                v[k] = add_vertex(raised(node, side * half_m), side * up[Index(cell)], node);
                continue;
            }
            std::uint32_t& vertex = shared[2 * Index(node) + (side > 0 ? 0 : 1)];
            if (vertex == none)
                vertex = add_vertex(raised(node, side * half_m), side * normal[Index(node)], node);
            v[k] = vertex;
        }
        add_quad(v, cell);
    }

    void add_wall(int cell, int a, int b, double half_m) {
        const part::Point out = (place[Index(b)] - place[Index(a)]).cross(up[Index(cell)]).normalized();
        add_quad({add_vertex(raised(a, -half_m), out, a), add_vertex(raised(b, -half_m), out, b),
                  add_vertex(raised(b, half_m), out, b), add_vertex(raised(a, half_m), out, a)},
                 cell);
    }

    // Both edges of the skin over the side of a cell; `traced` are the ones that this side may go on with.
    void trace(std::array<std::vector<part::Point>, 2>& traced, int a, int b, double half_m) {
        for (const bool over : {false, true}) {
            std::vector<part::Point>& line = traced[over ? 1 : 0];
            const double height_m = over ? half_m : -half_m;
            const part::Point from = raised(a, height_m);
            if (line.empty() || (line.back() - from).norm() > 1e-4) {
                end_line(line);
                line = {from};
            }
            line.push_back(raised(b, height_m));
        }
    }

    void end_line(std::vector<part::Point>& line) {
        if (!line.empty())
            surface.outline.push_back(std::exchange(line, {}));
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

    // Side k of all cells, row by row along it.
    void add_sides(const part::PanelGrid& grid, int k) {
        const double half_m = grid.thickness_m / 2;
        const bool along_u = k % 2 == 0;
        std::array<std::vector<part::Point>, 2> traced;
        for (int row = 0; row < (along_u ? grid.cells_v() : grid.cells_u()); ++row)
            for (int step = 0; step < (along_u ? grid.cells_u() : grid.cells_v()); ++step) {
                const int i = along_u ? step : row, j = along_u ? row : step, cell = grid.cell(i, j);
                if (!mesh.cell_alive[Index(cell)])
                    continue;
                const int a = mesh.cell_nodes[Index(cell)][Index(k)];
                const int b = mesh.cell_nodes[Index(cell)][Index((k + 1) % 4)];
                const int other = neighbour(grid, i, j, k);
                const bool wall = other < 0 || !mesh.cell_alive[Index(other)];
                if (wall)
                    add_wall(cell, a, b, half_m);
                else if (other < cell || up[Index(cell)].dot(up[Index(other)]) >= 0.8)
                    continue;
                trace(traced, k < 2 ? a : b, k < 2 ? b : a, half_m); // sides 2 and 3 run against the rows
            }
        for (std::vector<part::Point>& line : traced)
            end_line(line);
    }

    // What looks the same way and lies in one place follows one another: faces come in strips of a few cells' width.
    void add_panel(const part::PanelGrid& grid) {
        constexpr int strip = 7;
        for (const double side : {1.0, -1.0})
            for (int first = 0; first < grid.cells_u(); first += strip)
                for (int j = 0; j < grid.cells_v(); ++j)
                    for (int i = first; i < std::min(first + strip, grid.cells_u()); ++i)
                        if (mesh.cell_alive[Index(grid.cell(i, j))])
                            add_face(grid.cell(i, j), side, grid.thickness_m / 2);
        for (int k = 0; k < 4; ++k)
            add_sides(grid, k);
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
    Builder builder{mesh, displaced(mesh, displacement_m, exaggeration), {}, {}, {}, {}, {}};
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
