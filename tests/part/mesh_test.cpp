#include "part/mesh.h"
#include "part/panels.h"
#include "part/surface.h"

#include <Eigen/Geometry>
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

using namespace holdtrue::part;

namespace {

double cell_area(const Mesh& mesh, int cell) {
    const auto& n = mesh.cell_nodes[static_cast<std::size_t>(cell)];
    const auto p = [&](std::size_t k) { return mesh.position_m[static_cast<std::size_t>(n[k])]; };
    return 0.5 * (p(2) - p(0)).cross(p(3) - p(1)).norm();
}

double live_area(const Mesh& mesh) {
    double area = 0;
    for (int cell = 0; cell < mesh.cell_count(); ++cell)
        if (mesh.cell_alive[static_cast<std::size_t>(cell)])
            area += cell_area(mesh, cell);
    return area;
}

// Smallest sine of a corner's angle over the live cells, negative where a cell is folded.
double worst_corner(const Mesh& mesh) {
    double worst = 1;
    for (int cell = 0; cell < mesh.cell_count(); ++cell) {
        if (!mesh.cell_alive[static_cast<std::size_t>(cell)])
            continue;
        const auto& n = mesh.cell_nodes[static_cast<std::size_t>(cell)];
        const auto p = [&](std::size_t k) { return mesh.position_m[static_cast<std::size_t>(n[k % 4])]; };
        const Point normal = (p(2) - p(0)).cross(p(3) - p(1)).normalized();
        for (std::size_t k = 0; k < 4; ++k)
            worst = std::min(worst, (p(k + 1) - p(k)).normalized().cross((p(k + 3) - p(k)).normalized()).dot(normal));
    }
    return worst;
}

} // namespace

TEST_CASE("the mesh has the area of its panels") {
    CHECK(live_area(build_mesh(test::part_of({test::plate(0.3, 0.1, 0.005)}))) == doctest::Approx(0.03));
    // Trapezium webs and flanges of a tapered channel, by hand: web 0.9 (0.16 + 0.10)/2 square to the taper's middle
    // line; each flange slopes by 0.03 over 0.9.
    const double web = 0.9 * 0.13;
    const double flange = 0.0385 * std::hypot(0.9, 0.03);
    const Mesh channel = build_mesh(test::part_of({test::channel(0.9, 0.16, 0.10, 0.0385)}));
    CHECK(live_area(channel) == doctest::Approx(web + 2 * flange).epsilon(1e-9));
    // A polygon of n sides in a circle: n sin(pi/n)/pi of its circumference.
    const Mesh tube = build_mesh(test::part_of({test::tube(0.021, 0.096, 16)}));
    CHECK(live_area(tube) == doctest::Approx(2 * 16 * 0.021 * std::sin(std::numbers::pi / 16) * 0.096).epsilon(1e-9));
}

TEST_CASE("profile corners are grid lines and spacing keeps to the element size") {
    const Part part = test::part_of({test::channel(0.9, 0.16, 0.10, 0.0385)});
    const Mesh mesh = build_mesh(part);
    for (const std::vector<Point>* profile : {&part.panels[0].profile_a, &part.panels[0].profile_b})
        for (const Point& corner : *profile)
            CHECK(std::ranges::any_of(mesh.position_m, [&](const Point& p) { return (p - corner).norm() < 1e-12; }));
    for (const auto& nodes : mesh.cell_nodes) {
        const auto length = [&](std::size_t a, std::size_t b) {
            return (mesh.position_m[static_cast<std::size_t>(nodes[a])] -
                    mesh.position_m[static_cast<std::size_t>(nodes[b])])
                .norm();
        };
        CHECK(length(0, 1) < 1.26 * part.element_m);
        CHECK(length(1, 2) < 1.26 * part.element_m);
        CHECK(length(0, 1) > 0.4 * part.element_m);
    }
}

TEST_CASE("half the element size gives four times the cells") {
    const Part part = test::part_of({test::plate(0.3, 0.1, 0.005)});
    CHECK(build_mesh(part).cell_count() == 30 * 10);
    CHECK(build_mesh(part, 0.5).cell_count() == 60 * 20);
    Part own = part;
    own.panels[0].element_m = 0.005;
    CHECK(build_mesh(own).cell_count() == 60 * 20);
}

TEST_CASE("a closed panel wraps") {
    const Mesh mesh = build_mesh(test::part_of({test::tube(0.021, 0.096, 16)}));
    const PanelGrid& grid = mesh.panels[0];
    CHECK(grid.cells_u() == grid.nu);
    CHECK(mesh.cell_nodes[static_cast<std::size_t>(grid.cell(grid.nu - 1, 0))][1] == grid.node(0, 0));
    CHECK(mesh.node_count() == grid.nu * grid.nv);
    CHECK(mesh.cell_count() == grid.nu * (grid.nv - 1));
}

TEST_CASE("normals are of unit length and square to the sheet") {
    const Mesh plate = build_mesh(test::part_of({test::plate(0.3, 0.1, 0.005)}));
    for (const Point& normal : plate.normal)
        CHECK((normal - Point(0, 0, 1)).norm() < 1e-12);
    const Mesh tube = build_mesh(test::part_of({test::tube(0.021, 0.096, 16)}));
    for (int node = 0; node < tube.node_count(); ++node) {
        const Point& p = tube.position_m[static_cast<std::size_t>(node)];
        const Point radial = Point(p.x(), p.y(), 0).normalized();
        CHECK(tube.normal[static_cast<std::size_t>(node)].dot(radial) == doctest::Approx(1).epsilon(1e-3));
    }
}

TEST_CASE("a hole takes its area away and leaves sound cells") {
    for (const double radius : {0.006, 0.013, 0.025, 0.033})
        for (const double scale : {2.0, 1.0, 0.5, 0.25}) {
            CAPTURE(radius);
            CAPTURE(scale);
            Panel plate = test::plate(0.3, 0.1, 0.005);
            plate.cut_outs.push_back({{0.0633, 0.0471, 0}, radius, 0});
            const Mesh mesh = build_mesh(test::part_of({plate}), scale);
            const double exact = 0.03 - std::numbers::pi * radius * radius;
            CHECK(std::abs(live_area(mesh) - exact) < 0.02 * std::numbers::pi * radius * radius);
            CHECK(worst_corner(mesh) > 0.2);
            for (int node = 0; node < mesh.node_count(); ++node)
                if (mesh.node_alive[static_cast<std::size_t>(node)])
                    CHECK((mesh.position_m[static_cast<std::size_t>(node)] - Point(0.0633, 0.0471, 0)).norm() >
                          0.99 * radius);
        }
}

TEST_CASE("two holes in a tapered web") {
    Panel channel = test::channel(0.9, 0.16, 0.10, 0.0385);
    channel.cut_outs.push_back({{0.09, 0, 0}, 0.025, 0});
    channel.cut_outs.push_back({{0.82, 0, 0}, 0.025, 0});
    const double whole = panel_area_m2(channel);
    for (const double scale : {1.5, 1.0, 0.5}) {
        const Mesh mesh = build_mesh(test::part_of({channel}), scale);
        const double holes = 2 * std::numbers::pi * 0.025 * 0.025;
        CHECK(std::abs(live_area(mesh) - (whole - holes)) < 0.02 * holes);
        CHECK(worst_corner(mesh) > 0.2);
    }
}

TEST_CASE("attaching a point of the sheet gives it back") {
    Panel channel = test::channel(0.9, 0.16, 0.10, 0.0385);
    channel.cut_outs.push_back({{0.09, 0, 0}, 0.025, 0});
    const Mesh mesh = build_mesh(test::part_of({channel, test::tube(0.021, 0.096, 16)}));
    std::mt19937 random(7);
    std::uniform_real_distribution<double> share(0, 1);
    for (int trial = 0; trial < 300; ++trial) {
        const int panel = trial % 2;
        // Any place of any live cell.
        const PanelGrid& grid = mesh.panels[static_cast<std::size_t>(panel)];
        const int cells = grid.cells_u() * grid.cells_v();
        int cell = grid.first_cell + static_cast<int>(share(random) * cells);
        if (!mesh.cell_alive[static_cast<std::size_t>(cell)])
            continue;
        const auto weights = quad_weights(share(random), share(random));
        Point place = Point::Zero();
        for (std::size_t k = 0; k < 4; ++k)
            place += weights[k] *
                     mesh.position_m[static_cast<std::size_t>(mesh.cell_nodes[static_cast<std::size_t>(cell)][k])];
        const Attachment found = attach(mesh, panel, place);
        CHECK(found.distance_m < 1e-9);
        CHECK((at(found, mesh.position_m) - place).norm() < 1e-9);
        double sum = 0;
        for (const double weight : found.weight) {
            CHECK(weight >= 0);
            sum += weight;
        }
        CHECK(sum == doctest::Approx(1));
    }
}

TEST_CASE("attaching from beside the sheet finds the nearest place") {
    const Mesh mesh = build_mesh(test::part_of({test::plate(0.3, 0.1, 0.005)}));
    const Attachment above = attach(mesh, 0, {0.123, 0.045, 0.004});
    CHECK(above.distance_m == doctest::Approx(0.004));
    CHECK((above.position - Point(0.123, 0.045, 0)).norm() < 1e-12);
    const Attachment beyond = attach(mesh, 0, {0.31, -0.02, 0});
    CHECK((beyond.position - Point(0.3, 0, 0)).norm() < 1e-12);
}

TEST_CASE("a point in a hole goes to the hole's edge") {
    Panel plate = test::plate(0.3, 0.1, 0.005);
    plate.cut_outs.push_back({{0.1, 0.05, 0}, 0.02, 0});
    const Mesh mesh = build_mesh(test::part_of({plate}));
    const Attachment edge = attach(mesh, 0, {0.115, 0.05, 0});
    CHECK((edge.position - Point(0.1, 0.05, 0)).norm() == doctest::Approx(0.02).epsilon(0.05));
    CHECK(mesh.cell_alive[static_cast<std::size_t>(edge.cell)] == 1);
}

TEST_CASE("a joint along the grid gets a grid line") {
    Part part = test::part_of({test::plate(0.3, 0.1, 0.005)});
    Joint joint;
    joint.path = {{0, 0.033, 0.0025}, {0.3, 0.033, 0.0025}};
    part.joints.push_back(joint);
    const Mesh mesh = build_mesh(part);
    CHECK(std::ranges::any_of(mesh.position_m, [](const Point& p) { return std::abs(p.y() - 0.033) < 1e-12; }));
}
