// A linear shell problem: K u = f with some unknowns held at zero, and free strains (thermal or shrinkage) in elements.
#pragma once

#include "distortion/shell_model.h"

namespace holdtrue::distortion {

struct ShellLoads {
    std::vector<char> fixed;             // unknown_count; 1: held at zero
    Eigen::VectorXd force;               // unknown_count [N, N m]
    std::vector<Resultants> free_strain; // element_count or empty; strains and curvatures in the element's own axes
};

struct ShellSolution {
    bool held = true;                   // false: the supports leave the structure free to move; nothing else is set
    Eigen::VectorXd displacement;       // [m, rad]
    Eigen::VectorXd reaction;           // what the supports exert; zero elsewhere up to rounding [N, N m]
    std::vector<Resultants> resultants; // element_count, at the middles, in the elements' own axes [N/m, N]
};

ShellSolution solve(const ShellModel& model, const ShellLoads& loads);

// In-plane stress (xx, yy, xy) [Pa] at the middle of an element, `side` -1 bottom, 0 middle, 1 top.
Eigen::Vector3d stress_pa(const Resultants& resultants, double thickness_m, int side);

// Uniform temperature change and difference top minus bottom of an element, as free strain and curvature.
// The top is the side the element's normal points to.
Resultants thermal_strain(double expansion_per_k, double change_k, double top_minus_bottom_k, double thickness_m);

} // namespace holdtrue::distortion
