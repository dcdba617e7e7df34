#include "distortion/shell_case.h"

#include <Eigen/Geometry>

namespace holdtrue::distortion {

std::vector<double> read_probe(const ShellProbe& probe, const ShellCase& of, const ShellModel& model,
                               const ShellSolution& solution) {
    std::vector<double> values;
    switch (probe.kind) {
    case ShellProbeKind::displacement:
        for (int k = 0; k < 6; ++k)
            values.push_back(solution.displacement[6 * probe.node + k]);
        break;
    case ShellProbeKind::reaction: {
        Eigen::Vector3d force = Eigen::Vector3d::Zero(), moment = Eigen::Vector3d::Zero();
        for (const int unknown : probe.unknowns) {
            const double reaction = solution.reaction[unknown];
            const Eigen::Vector3d along = reaction * Eigen::Vector3d::Unit(unknown % 3);
            if (unknown % 6 < 3) {
                force += along;
                moment += of.mesh.node_m[static_cast<std::size_t>(unknown / 6)].cross(along);
            } else
                moment += along;
        }
        values.assign({force.x(), force.y(), force.z(), moment.x(), moment.y(), moment.z()});
        break;
    }
    case ShellProbeKind::stress: {
        const ShellElement& element = model.element(probe.element);
        for (const int side : {-1, 0, 1}) {
            const Eigen::Vector3d s =
                stress_pa(solution.resultants[static_cast<std::size_t>(probe.element)], element.thickness_m(), side);
            Eigen::Matrix3d local = Eigen::Matrix3d::Zero();
            local.topLeftCorner<2, 2>() << s[0], s[2], s[2], s[1];
            const Eigen::Matrix3d t = element.axes().transpose() * local * element.axes();
            values.insert(values.end(), {t(0, 0), t(1, 1), t(2, 2), t(0, 1), t(1, 2), t(2, 0)});
        }
        break;
    }
    }
    return values;
}

} // namespace holdtrue::distortion
