// Plates made in code for the heat tests, and their solver.
#pragma once

#include "heat/conduction.h"
#include "part/panels.h"

#include <cmath>
#include <vector>

namespace holdtrue::heat::test {

inline std::shared_ptr<const part::Mesh> mesh_of(std::vector<part::Panel> panels, double element_m) {
    return std::make_shared<const part::Mesh>(part::build_mesh(part::test::part_of(std::move(panels), element_m)));
}

inline std::shared_ptr<const part::Mesh> plate_mesh(double length_m, double width_m, double thickness_m,
                                                    double element_m) {
    return mesh_of({part::test::plate(length_m, width_m, thickness_m)}, element_m);
}

using Faces = std::vector<FaceLaws>; // one per panel
inline const Faces insulated{FaceLaws{}};

// The node nearest to a point.
inline int node_at(const part::Mesh& mesh, const part::Point& point) {
    int best = 0;
    for (int node = 1; node < mesh.node_count(); ++node)
        if ((mesh.position_m[node] - point).norm() < (mesh.position_m[best] - point).norm())
            best = node;
    return best;
}

// Length of the edge x = const that belongs to each of its nodes, times the thickness.
inline std::vector<std::pair<int, double>> end_areas(const part::Mesh& mesh, double x_m, double width_m) {
    std::vector<std::pair<int, double>> nodes;
    for (int node = 0; node < mesh.node_count(); ++node)
        if (std::abs(mesh.position_m[node].x() - x_m) < 1e-9)
            nodes.emplace_back(node, 0.0);
    const double whole = width_m * mesh.panels[0].thickness_m / static_cast<double>(nodes.size() - 1);
    for (auto& [node, area_m2] : nodes) {
        const double y = mesh.position_m[node].y();
        area_m2 = y < 1e-9 || y > width_m - 1e-9 ? whole / 2 : whole;
    }
    return nodes;
}

inline auto constant_temperature(double kelvin) {
    return std::make_shared<const std::function<double(double)>>([kelvin](double) { return kelvin; });
}

// Advances to a time in equal steps.
inline void advance_to(Conduction& heat, double time_s, int steps) {
    const double step_s = (time_s - heat.time_s()) / steps;
    for (int k = 0; k < steps; ++k)
        heat.advance(step_s);
}

} // namespace holdtrue::heat::test
