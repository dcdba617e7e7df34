// Published shell problems, each with the mesh refined until it must agree. Values and dimensions: R. H. MacNeal and
// R. L. Harder 1985, T. Belytschko et al. 1985, and (Scordelis-Lo .3024 and hemisphere .0924) the shell obstacle course
// of the Kratos Multiphysics documentation; from memory unless a formula stands beside.
#include "shell_grid.h"

#include <doctest/doctest.h>

#include <numbers>

using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

constexpr double pi = std::numbers::pi;

double scordelis_lo(int n) {
    const double length = 50, radius = 25, angle = 40 * pi / 180;
    const ShellMesh mesh = grid(n, n, 0.25, {4.32e8, 0}, [&](double s, double r) {
        return Eigen::Vector3d(radius * std::sin(angle * s), 0.5 * length * r, radius * std::cos(angle * s));
    });
    const ShellModel model(mesh);
    ShellLoads loads = no_loads(model);
    hold(loads, mesh, "uw", [](const auto& p) { return near(p.y(), 0); });    // rigid diaphragm
    hold(loads, mesh, "vxz", [&](const auto& p) { return near(p.y(), 25); }); // middle of the span
    hold(loads, mesh, "uyz", [](const auto& p) { return near(p.x(), 0); });
    press(loads, model, {0, 0, -90});
    return -solve(model, loads).displacement[6 * node_at(mesh, {radius * std::sin(angle), 25, 0}) + 2];
}

double pinched_cylinder(int n) {
    const ShellMesh mesh = grid(n, n, 3, {3e6, 0.3}, [](double s, double r) {
        return Eigen::Vector3d(300 * std::sin(pi / 2 * s), 300 * r, 300 * std::cos(pi / 2 * s));
    });
    const ShellModel model(mesh);
    ShellLoads loads = no_loads(model);
    hold(loads, mesh, "uw", [](const auto& p) { return near(p.y(), 0); });
    hold(loads, mesh, "vxz", [](const auto& p) { return near(p.y(), 300); });
    hold(loads, mesh, "uyz", [](const auto& p) { return std::abs(p.x()) < 1e-9; });
    hold(loads, mesh, "wxy", [](const auto& p) { return std::abs(p.z()) < 1e-9; });
    const int loaded = node_at(mesh, {0, 300, 300});
    loads.force[6 * loaded + 2] = -0.25;
    return -solve(model, loads).displacement[6 * loaded + 2];
}

// A quarter of the hemisphere in three blocks that meet in the middle of the octant, so that no element is a triangle.
double pinched_hemisphere(int n) {
    ShellMesh mesh;
    mesh.elastic = {6.825e7, 0.3};
    const Eigen::Vector3d x(1, 0, 0), y(0, 1, 0), z(0, 0, 1);
    const Eigen::Vector3d xy = (x + y).normalized(), yz = (y + z).normalized(), zx = (z + x).normalized();
    const Eigen::Vector3d middle = (x + y + z).normalized();
    const auto find_or_add = [&](const Eigen::Vector3d& p) {
        for (std::size_t k = 0; k < mesh.node_m.size(); ++k)
            if ((mesh.node_m[k] - p).norm() < 1e-6)
                return static_cast<int>(k);
        mesh.node_m.push_back(p);
        return static_cast<int>(mesh.node_m.size()) - 1;
    };
    const auto arc = [](const Eigen::Vector3d& a, const Eigen::Vector3d& b, double s) -> Eigen::Vector3d {
        const double angle = std::acos(a.dot(b));
        return (std::sin((1 - s) * angle) * a + std::sin(s * angle) * b) / std::sin(angle);
    };
    const auto block = [&](const Eigen::Vector3d& a, const Eigen::Vector3d& b, const Eigen::Vector3d& c,
                           const Eigen::Vector3d& d) {
        const auto at = [&](int i, int j) {
            const double s = double(i) / n, r = double(j) / n;
            return find_or_add(10 * arc(arc(a, b, s), arc(d, c, s), r));
        };
        for (int j = 0; j < n; ++j)
            for (int i = 0; i < n; ++i)
                mesh.quad.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)});
    };
    block(x, xy, middle, zx);
    block(y, yz, middle, xy);
    block(z, zx, middle, yz);
    mesh.thickness_m.assign(mesh.quad.size(), 0.04);
    const ShellModel model(mesh);
    ShellLoads loads = no_loads(model);
    hold(loads, mesh, "vxz", [](const auto& p) { return std::abs(p.y()) < 1e-9; });
    hold(loads, mesh, "uyz", [](const auto& p) { return std::abs(p.x()) < 1e-9; });
    const int at_x = node_at(mesh, 10 * x), at_y = node_at(mesh, 10 * y);
    loads.fixed[static_cast<std::size_t>(6 * node_at(mesh, 10 * z) + 2)] = 1;
    loads.force[6 * at_x] = 1; // half of 2, the whole load on the quarter's corner
    loads.force[6 * at_y + 1] = -1;
    return solve(model, loads).displacement[6 * at_x];
}

double straight_beam(int direction) {
    const ShellMesh mesh =
        grid(6, 1, 0.1, {1e7, 0.3}, [](double s, double r) { return Eigen::Vector3d(6 * s, 0.2 * r, 0); });
    const ShellModel model(mesh);
    ShellLoads loads = no_loads(model);
    hold(loads, mesh, "uvwxyz", [](const auto& p) { return near(p.x(), 0); });
    const int tip_a = node_at(mesh, {6, 0, 0}), tip_b = node_at(mesh, {6, 0.2, 0});
    loads.force[6 * tip_a + direction] = loads.force[6 * tip_b + direction] = 0.5;
    const Eigen::VectorXd u = solve(model, loads).displacement;
    return 0.5 * (u[6 * tip_a + direction] + u[6 * tip_b + direction]);
}

// 90 degrees of twist over length 12; width 1.1, E 29e6, nu .22.
double twisted_beam(int along, int across, double thickness, int direction) {
    const ShellMesh mesh = grid(along, across, thickness, {29e6, 0.22}, [](double s, double r) {
        const double turn = pi / 2 * s, y = 1.1 * (r - 0.5);
        return Eigen::Vector3d(12 * s, y * std::cos(turn), y * std::sin(turn));
    });
    const ShellModel model(mesh);
    ShellLoads loads = no_loads(model);
    hold(loads, mesh, "uvwxyz", [](const auto& p) { return near(p.x(), 0); });
    const int tip = node_at(mesh, {12, 0, 0});
    loads.force[6 * tip + direction] = 1;
    return solve(model, loads).displacement[6 * tip + direction];
}

double square_plate(int n, double length, bool clamped, bool pressure) {
    const ShellMesh mesh =
        grid(n, n, 1e-4, {1.7472e7, 0.3}, [&](double s, double r) { return Eigen::Vector3d(s, length / 2 * r, 0); });
    const ShellModel model(mesh);
    ShellLoads loads = no_loads(model);
    hold(loads, mesh, "uvz", [](const auto&) { return true; });
    hold(loads, mesh, clamped ? "wxy" : "wx", [](const auto& p) { return near(p.x(), 0); });
    hold(loads, mesh, clamped ? "wxy" : "wy", [](const auto& p) { return near(p.y(), 0); });
    hold(loads, mesh, "y", [](const auto& p) { return near(p.x(), 1); });
    hold(loads, mesh, "x", [&](const auto& p) { return near(p.y(), length / 2); });
    const int middle = node_at(mesh, {1, length / 2, 0});
    if (pressure)
        press(loads, model, {0, 0, 1e-4});
    else
        loads.force[6 * middle + 2] = 4e-4 / 4;
    return solve(model, loads).displacement[6 * middle + 2];
}

} // namespace

TEST_CASE("Scordelis-Lo roof converges to .3024") {
    const double coarse = scordelis_lo(8), fine = scordelis_lo(32);
    MESSAGE("n 4, 8, 16, 32: ", scordelis_lo(4), " ", coarse, " ", scordelis_lo(16), " ", fine);
    CHECK(within(coarse, 0.3024, 0.03));
    CHECK(within(fine, 0.3024, 0.01)); // fine shell meshes with shear tend to .3006
}

TEST_CASE("pinched cylinder converges to 1.8248e-5") {
    const double coarse = pinched_cylinder(8), middle = pinched_cylinder(16), fine = pinched_cylinder(48);
    MESSAGE("n 8, 16, 48: ", coarse, " ", middle, " ", fine);
    CHECK(std::abs(fine - 1.8248e-5) < std::abs(middle - 1.8248e-5));
    CHECK(std::abs(middle - 1.8248e-5) < std::abs(coarse - 1.8248e-5));
    CHECK(within(fine, 1.8248e-5, 0.015));
}

TEST_CASE("pinched hemisphere without a hole converges to .0924") {
    const double coarse = pinched_hemisphere(8), fine = pinched_hemisphere(16);
    MESSAGE("n 4, 8, 16: ", pinched_hemisphere(4), " ", coarse, " ", fine);
    CHECK(within(coarse, 0.0924, 0.03));
    CHECK(within(fine, 0.0924, 0.01));
}

TEST_CASE("straight cantilever of six elements: stretch 3e-5, in plane .1081, out of plane .4321") {
    MESSAGE(straight_beam(0), " ", straight_beam(1), " ", straight_beam(2));
    CHECK(within(straight_beam(0), 3.0e-5, 0.01));
    CHECK(within(straight_beam(1), 0.1081, 0.01));
    CHECK(within(straight_beam(2), 0.4321, 0.02));
}

TEST_CASE("twisted beam: 5.424e-3 and 1.754e-3 for a unit force, thickness .0032: 5256 and 1294") {
    MESSAGE("12x2: ", twisted_beam(12, 2, 0.32, 2), " ", twisted_beam(12, 2, 0.32, 1));
    CHECK(within(twisted_beam(12, 2, 0.32, 2), 5.424e-3, 0.02));
    CHECK(within(twisted_beam(12, 2, 0.32, 1), 1.754e-3, 0.02));
    CHECK(within(twisted_beam(48, 8, 0.32, 2), 5.424e-3, 0.005));
    CHECK(within(twisted_beam(48, 8, 0.32, 1), 1.754e-3, 0.005));
    CHECK(within(twisted_beam(12, 2, 0.0032, 2), 5256, 0.005));
    CHECK(within(twisted_beam(48, 8, 0.0032, 1), 1294, 0.005));
}

TEST_CASE("square plates 2 x 2 and 2 x 10: simply supported 4.062 and 12.97, clamped 1.260, 2.60, 5.60, 7.23") {
    CHECK(within(square_plate(16, 2, false, true), 4.062, 0.005));  // Navier 4.06235
    CHECK(within(square_plate(16, 10, false, true), 12.97, 0.005)); // Navier 12.97083
    CHECK(within(square_plate(16, 2, true, true), 1.260, 0.01));
    CHECK(within(square_plate(16, 10, true, true), 2.60, 0.01));
    CHECK(within(square_plate(16, 2, true, false), 5.60, 0.01));
    CHECK(within(square_plate(24, 10, true, false), 7.23, 0.03));
}
