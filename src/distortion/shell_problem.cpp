#include "distortion/shell_problem.h"

namespace holdtrue::distortion {

ShellSolution solve(const ShellModel& model, const ShellLoads& loads) {
    ShellSolution solution;
    Eigen::VectorXd load = loads.force;
    const auto held = [&](int e) {
        const double t = model.element(e).thickness_m();
        return held_by(model.elastic(), t, loads.free_strain[static_cast<std::size_t>(e)]);
    };
    if (!loads.free_strain.empty())
        for (int e = 0; e < model.element_count(); ++e)
            model.scatter(e,
                          model.element(e).forces_of(
                              held(e), 0.5 * loads.free_strain[static_cast<std::size_t>(e)].membrane.head<2>().sum()),
                          load);
    Eigen::VectorXd kept = load;
    for (int i = 0; i < model.unknown_count(); ++i)
        if (loads.fixed[static_cast<std::size_t>(i)])
            kept[i] = 0;

    const SparseFactor factor(model.stiffness(loads.fixed));
    solution.held = factor.ok();
    if (!solution.held)
        return solution;
    solution.displacement = factor.solve(kept);
    solution.reaction = model.internal_forces(solution.displacement) - load;
    for (int e = 0; e < model.element_count(); ++e) {
        const double t = model.element(e).thickness_m();
        const Resultants strain = model.element(e).strains_at_middle(model.gather(e, solution.displacement));
        Resultants result = held_by(model.elastic(), t, strain);
        if (!loads.free_strain.empty()) {
            result.membrane -= held(e).membrane;
            result.bending -= held(e).bending;
        }
        solution.resultants.push_back(result);
    }
    return solution;
}

Eigen::Vector3d stress_pa(const Resultants& resultants, double thickness_m, int side) {
    return resultants.membrane / thickness_m + resultants.bending * (6.0 * side / (thickness_m * thickness_m));
}

Resultants thermal_strain(double expansion_per_k, double change_k, double top_minus_bottom_k, double thickness_m) {
    const double strain = expansion_per_k * change_k;
    const double curvature = expansion_per_k * top_minus_bottom_k / thickness_m;
    return {{strain, strain, 0}, {curvature, curvature, 0}};
}

} // namespace holdtrue::distortion
