// Structured shell meshes and supports for the tests.
#pragma once

#include "distortion/shell_problem.h"

#include <functional>

namespace holdtrue::distortion::testing {

// nu x nv elements over (s, r) in the unit square; node (i, j) is j * (nu + 1) + i.
inline ShellMesh grid(int nu, int nv, double thickness, const Elastic& elastic,
                      const std::function<Eigen::Vector3d(double, double)>& place) {
    ShellMesh mesh;
    mesh.elastic = elastic;
    for (int j = 0; j <= nv; ++j)
        for (int i = 0; i <= nu; ++i)
            mesh.node_m.push_back(place(double(i) / nu, double(j) / nv));
    for (int j = 0; j < nv; ++j)
        for (int i = 0; i < nu; ++i) {
            const int a = j * (nu + 1) + i;
            mesh.quad.push_back({a, a + 1, a + nu + 2, a + nu + 1});
            mesh.thickness_m.push_back(thickness);
        }
    return mesh;
}

inline ShellLoads no_loads(const ShellModel& model) {
    return {std::vector<char>(static_cast<std::size_t>(model.unknown_count()), 0),
            Eigen::VectorXd::Zero(model.unknown_count()),
            {}};
}

// Holds the named unknowns ("uvwxyz": displacements, then rotations) of all nodes for which `where` is true.
inline void hold(ShellLoads& loads, const ShellMesh& mesh, const std::string& unknowns,
                 const std::function<bool(const Eigen::Vector3d&)>& where) {
    for (std::size_t n = 0; n < mesh.node_m.size(); ++n)
        if (where(mesh.node_m[n]))
            for (const char name : unknowns)
                loads.fixed[6 * n + std::string("uvwxyz").find(name)] = 1;
}

// Relative closeness. (doctest's Approx adds its tolerance in absolute terms too, which passes any small number.)
inline bool within(double value, double reference, double relative) {
    return std::abs(value - reference) <= relative * std::abs(reference);
}

inline bool near(double a, double b) { return std::abs(a - b) < 1e-9 * (1 + std::abs(b)); }

inline int node_at(const ShellMesh& mesh, const Eigen::Vector3d& point) {
    int best = 0;
    for (std::size_t n = 1; n < mesh.node_m.size(); ++n)
        if ((mesh.node_m[n] - point).norm() < (mesh.node_m[static_cast<std::size_t>(best)] - point).norm())
            best = static_cast<int>(n);
    return best;
}

// Force per area, in a fixed direction.
inline void press(ShellLoads& loads, const ShellModel& model, const Eigen::Vector3d& per_area) {
    for (int e = 0; e < model.element_count(); ++e)
        for (std::size_t k = 0; k < 4; ++k)
            loads.force.segment<3>(6 * model.nodes_of(e)[k]) += model.element(e).nodal_area_m2()[int(k)] * per_area;
}

} // namespace holdtrue::distortion::testing
