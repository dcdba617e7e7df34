// How points beside a sheet move with it, and what a pin in a bore reads.
#include "distortion/condensed_response.h"
#include "distortion/mean_motion.h"
#include "part/panels.h"
#include "sample_parts.h"

#include <Eigen/Geometry>
#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;
using namespace holdtrue::distortion::testing;

namespace {

using part::Point;

// Unknowns of every node for displacements u(x) and rotations r(x).
Eigen::VectorXd field(const part::Mesh& mesh, const auto& u, const auto& r) {
    Eigen::VectorXd values(6 * mesh.node_count());
    for (int n = 0; n < mesh.node_count(); ++n) {
        const Point& x = mesh.position_m[static_cast<std::size_t>(n)];
        values.segment<3>(6 * n) = u(x);
        values.segment<3>(6 * n + 3) = r(x);
    }
    return values;
}

double read(const LinearRow& row, const Eigen::VectorXd& values) {
    double sum = 0;
    for (const auto& [unknown, coefficient] : row.unknown)
        sum += coefficient * values[unknown];
    return sum;
}

Point displacement(const Grip& grip, const Point& point, const Eigen::VectorXd& values) {
    Point moved;
    for (int axis = 0; axis < 3; ++axis) {
        LinearRow row;
        row.add_displacement(grip, point, Point::Unit(axis), 1);
        moved[axis] = read(row, values);
    }
    return moved;
}

// Of a tee whose fillets' legs are as thick as its sheets: by how much the pull of one fillet leans the web.
double lean_by_pull(double element_m) {
    part::Part part = tee(0.2, 0.10, 0.06, 0.005, element_m, 1, 0);
    part.gauges.clear();
    const double x = 0.1;
    part.gauges.push_back(gauge("web", part::GaugeKind::distance, {1, 1}, {{x, 0, 0.0025}, {x, 0, 0.0525}}, {0, 0, 1}));
    part.gauges.push_back(
        gauge("flange", part::GaugeKind::distance, {0, 0}, {{x, -0.045, 0}, {x, 0.045, 0}}, {0, 1, 0}));
    const part::Mesh mesh = part::build_mesh(part);
    const CondensedPart condensed(part, mesh);
    const PartModel& model = condensed.model();
    CondensedResponse response(condensed);
    for (const WeldGroup& group : model.groups()) {
        const std::vector<int> rows = group.tie_rows();
        response.tie(rows, std::vector<double>(rows.size(), 0.0));
    }
    std::vector<std::pair<int, double>> pull;
    for (const int g : model.groups_of_pass(0))
        for (const std::size_t side : {0u, 1u})
            pull.emplace_back(model.loads_of(g).along_narrow[side], 20e3 * model.strips(g)[side].share);
    response.set_level(response.add_loads(pull), 1);
    const auto moved = [&](int gauge, int point, int axis) {
        return response.value(model.gauge_row(gauge, point) + axis);
    };
    return -(moved(0, 1, 1) - moved(0, 0, 1)) / 0.05 - (moved(1, 1, 2) - moved(1, 0, 2)) / 0.09;
}

} // namespace

TEST_CASE("a point beside a sheet, flat or bent, follows every rigid motion") {
    const Point shift(0.3, -0.2, 0.5), turn(0.02, 0.03, -0.05);
    const auto u = [&](const Point& x) -> Point { return shift + turn.cross(x); };
    for (const part::Panel& panel : {part::test::plate(0.1, 0.06, 0.003), part::test::channel(0.3, 0.08, 0.05, 0.04),
                                     part::test::tube(0.02, 0.05, 24)}) {
        CAPTURE(panel.name);
        const part::Part part = part::test::part_of({panel});
        const part::Mesh mesh = part::build_mesh(part);
        const Eigen::VectorXd values = field(mesh, u, [&](const Point&) { return turn; });
        for (const Point& point : {Point(0.031, 0.02, 0.004), Point(-0.01, 0.07, -0.01), Point(0.05, 0.0, 0.02)}) {
            Grip held = grip(mesh, 0, point);
            CHECK((displacement(held, point, values) - u(point)).norm() < 1e-14);
            held.bend = part::attach(mesh, 0, point + Point(0.02, -0.01, 0)); // another place's slope
            CHECK((displacement(held, point, values) - u(point)).norm() < 1e-14);
            LinearRow row;
            row.add_rotation(held, Point(0.6, 0, 0.8), 2);
            CHECK(read(row, values) == doctest::Approx(2 * turn.dot(Point(0.6, 0, 0.8))).epsilon(1e-12));
        }
    }
}

TEST_CASE("in the plane of a stretched and sheared sheet a point beside its rim moves as if the sheet went on") {
    const part::Part part = part::test::part_of({part::test::plate(0.1, 0.06, 0.003)});
    const part::Mesh mesh = part::build_mesh(part);
    // No node turns: what its own unknown for it says does not count.
    const auto u = [](const Point& x) -> Point { return {1e-3 * x.x() + 3e-3 * x.y(), -5e-4 * x.y(), 0}; };
    const Eigen::VectorXd values = field(mesh, u, [](const Point&) -> Point { return {0, 0, 7}; });
    for (const Point& point : {Point(0.05, 0.03, 0), Point(-0.004, 0.031, 0), Point(0.02, 0.066, 0)}) {
        const Grip held = grip(mesh, 0, point);
        CHECK((displacement(held, point, values) - u(point)).norm() < 1e-15);
        LinearRow turn;
        turn.add_rotation(held, Point(0, 0, 1), 1);
        CHECK(read(turn, values) == doctest::Approx(-1.5e-3)); // (dv/dx - du/dy) / 2
    }
}

TEST_CASE("a weld's pull leans a tee's web by what hangs little on the mesh") {
    // With the shells' own turn about their normal in the ties it fell to a half and less as the mesh was halved.
    const double coarse = lean_by_pull(0.010), middle = lean_by_pull(0.005), fine = lean_by_pull(0.0025);
    CHECK(middle == doctest::Approx(coarse).epsilon(0.25));
    CHECK(fine == doctest::Approx(middle).epsilon(0.12));
}

TEST_CASE("a pin in a bore rides on the wall all round: it moves with the tube and not with its ovality") {
    part::Part part = part::test::part_of({part::test::tube(0.02, 0.05, 24)}, 0.005);
    part.gauges.push_back(gauge("pin", part::GaugeKind::distance, {0, 0}, {{0, 0, 0.004}, {0.02, 0, 0.03}}, {1, 0, 0}));
    const part::Mesh mesh = part::build_mesh(part);
    const PartModel model(part, mesh);
    const auto read_point = [&](int point, const Eigen::VectorXd& values) {
        Point moved;
        for (int axis = 0; axis < 3; ++axis)
            moved[axis] = model.rows().of_unknowns.row(model.gauge_row(0, point) + axis).dot(values);
        return moved;
    };
    const Point shift(0.3, -0.2, 0.5), turn(0.02, 0.03, -0.05);
    const auto rigid = [&](const Point& x) -> Point { return shift + turn.cross(x); };
    const Eigen::VectorXd carried = field(mesh, rigid, [&](const Point&) { return turn; });
    for (const int point : {0, 1})
        CHECK((read_point(point, carried) - rigid(part.gauges[0].point[static_cast<std::size_t>(point)])).norm() <
              1e-13);
    const auto oval = [](const Point& x) -> Point { return {x.x(), -x.y(), 0}; };
    const Eigen::VectorXd ovalised = field(mesh, oval, [](const Point&) -> Point { return {0, 0, 0}; });
    CHECK(read_point(0, ovalised).norm() < 1e-15);
    CHECK(read_point(1, ovalised).norm() > 0.019); // on the wall
}
