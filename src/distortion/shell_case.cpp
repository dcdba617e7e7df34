#include "distortion/shell_case.h"

#include <Eigen/Geometry>
#include <Eigen/QR>

#include <cmath>

namespace holdtrue::distortion {
namespace {

Eigen::Vector3d middle_of(const ShellMesh& mesh, int element) {
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (const int node : mesh.quad[static_cast<std::size_t>(element)])
        sum += mesh.node_m[static_cast<std::size_t>(node)];
    return 0.25 * sum;
}

// Each neighbour's stress is turned with its normal into the plane of the probe's element; there every component, and
// the normal itself, is taken as linear in the place. Across a panel of one element's width they are taken as constant.
Eigen::Matrix3d stress_at(const ShellProbe& probe, const ShellModel& model, const ShellSolution& solution, int side,
                          const ShellMesh& mesh) {
    const Eigen::Matrix3d axes = model.element(probe.element).axes();
    const Eigen::Vector3d origin = middle_of(mesh, probe.element);
    const double size_m = std::sqrt(model.element(probe.element).area_m2());
    const auto count = static_cast<Eigen::Index>(probe.neighbours.size());
    Eigen::Matrix<double, Eigen::Dynamic, 3> places(count, 3), stresses(count, 3), normals(count, 3);
    for (Eigen::Index k = 0; k < count; ++k) {
        const int element = probe.neighbours[static_cast<std::size_t>(k)];
        const ShellElement& shell = model.element(element);
        const Eigen::Vector3d s =
            stress_pa(solution.resultants[static_cast<std::size_t>(element)], shell.thickness_m(), side);
        Eigen::Matrix3d own = Eigen::Matrix3d::Zero();
        own.topLeftCorner<2, 2>() << s[0], s[2], s[2], s[1];
        const Eigen::Vector3d normal = shell.axes().row(2), normal_here = axes.row(2);
        const Eigen::Matrix3d turn = Eigen::Quaterniond::FromTwoVectors(normal, normal_here).toRotationMatrix();
        const Eigen::Matrix3d to_here = axes * turn * shell.axes().transpose();
        const Eigen::Matrix3d here = to_here * own * to_here.transpose();
        const Eigen::Vector3d place = axes * (middle_of(mesh, element) - origin) / size_m;
        places.row(k) << 1, place.x(), place.y();
        stresses.row(k) << here(0, 0), here(1, 1), here(0, 1);
        normals.row(k) = normal.transpose();
    }
    Eigen::CompleteOrthogonalDecomposition<Eigen::Matrix<double, Eigen::Dynamic, 3>> plane;
    plane.setThreshold(1e-6); // less is rounding
    plane.compute(places);
    const Eigen::Vector3d place = axes * (probe.place - origin) / size_m;
    const Eigen::RowVector3d at_place(1, place.x(), place.y());
    const Eigen::RowVector3d s = at_place * plane.solve(stresses).eval();
    const Eigen::Vector3d normal = (at_place * plane.solve(normals).eval()).transpose();
    Eigen::Matrix3d local = Eigen::Matrix3d::Zero();
    local.topLeftCorner<2, 2>() << s[0], s[2], s[2], s[1];
    // Into the plane that the sheet has at the place.
    const Eigen::Matrix3d turn = Eigen::Quaterniond::FromTwoVectors(axes.row(2).transpose(), normal).toRotationMatrix();
    const Eigen::Matrix3d to_global = turn * axes.transpose();
    return to_global * local * to_global.transpose();
}

} // namespace

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
    case ShellProbeKind::stress:
        for (const int side : {-1, 0, 1}) {
            const Eigen::Matrix3d t = stress_at(probe, model, solution, side, of.mesh);
            values.insert(values.end(), {t(0, 0), t(1, 1), t(2, 2), t(0, 1), t(1, 2), t(2, 0)});
        }
        break;
    }
    return values;
}

} // namespace holdtrue::distortion
