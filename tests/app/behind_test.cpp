// What of gauges and torch lies behind metal.
#include "app/scene/behind.h"
#include "app/scene/fit.h"
#include "exercises.h"
#include "grading/read_exercise.h"
#include "weld/read_plan.h"
#include "weld/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <numbers>

using namespace holdtrue;
using namespace holdtrue::app;

namespace {

using Index = std::size_t;

std::vector<std::vector<part::Point>> gauge_points(const part::Part& part) {
    std::vector<std::vector<part::Point>> points;
    for (const part::Gauge& gauge : part.gauges)
        points.push_back(gauge.point);
    return points;
}

scene::Projection seen_from(const part::Mesh& mesh, double azimuth_rad, double elevation_rad) {
    scene::Box box;
    for (const part::Point& point : mesh.position_m)
        box.add(point);
    scene::Camera camera;
    camera.azimuth_rad = azimuth_rad;
    camera.elevation_rad = elevation_rad;
    scene::fit(camera, box, {800, 600, {}});
    return {camera, Eigen::Matrix3d::Identity(), 800, 600};
}

} // namespace

// The lift arm is a box: from either side its own near face is before the line in its middle, not before a line on the
// near face itself, and one on the far face is hidden.
TEST_CASE("a gauge's line is behind metal where a face of the box is between it and the eye") {
    const auto exercise = grading::read_exercise(test::shipped("lift_arm.exercise.toml"));
    const part::Part& part = *exercise.part;
    const part::Mesh mesh = part::build_mesh(part);
    const scene::CellFinder cells(mesh, mesh.position_m);
    const auto points = gauge_points(part);
    const auto side = std::ranges::find(part.gauges, std::string("bow_side"), &part::Gauge::name);
    REQUIRE(side != part.gauges.end());
    const auto g = static_cast<Index>(side - part.gauges.begin());
    double middle_y = 0;
    for (const part::Point& node : mesh.position_m)
        middle_y += node.y() / static_cast<double>(mesh.position_m.size());
    const double of_face = points[g].front().y() > middle_y ? 1 : -1;
    REQUIRE(std::abs(points[g].front().y() - middle_y) > 0.01); // it is taken on one face
    for (const double eye : {1.0, -1.0}) {                      // on the side of +y, of -y
        const auto behind = scene::gauges_behind(part, points, seen_from(mesh, eye * std::numbers::pi / 2, 0.1), cells);
        REQUIRE(behind[g].stroke.size() == scene::strokes(part.gauges[g]).size());
        const bool hidden = eye != of_face;
        CHECK(std::ranges::count(behind[g].point, hidden) == std::ptrdiff_t(points[g].size()));
        for (const auto& stroke : behind[g].stroke)
            CHECK(std::ranges::count(stroke, hidden) == std::ptrdiff_t(stroke.size()));
    }
}

TEST_CASE("the torch stands where the simulation has it, and a web hides it from the other side") {
    const auto exercise = grading::read_exercise(test::shipped("tee_coupon.exercise.toml"));
    const weld::Plan plan =
        weld::read_plan(test::shipped("tee_coupon.model.plan.toml"), *exercise.part, *exercise.shop);
    const auto outcome = weld::simulate(exercise.part, exercise.shop, plan);
    const part::Part& part = *exercise.part;
    const part::Mesh& mesh = *outcome->mesh;
    const scene::CellFinder cells(mesh, mesh.position_m);
    const auto anchors = scene::anchor_passes(part, mesh);
    const auto passes = scene::lay_passes(part, mesh, anchors, mesh.position_m);
    std::vector<part::Point> lifted = mesh.position_m;
    for (part::Point& point : lifted)
        point.z() += 0.02;
    const auto lifted_passes = scene::lay_passes(part, mesh, anchors, lifted);
    int seen = 0;
    double before_m = 0;
    int move = -1;
    for (const weld::Frame& frame : outcome->frames) {
        const scene::Moment moment = scene::moment_at(*outcome, frame.time_s);
        const auto torch = scene::torch_place(anchors, passes, *outcome, moment);
        CHECK(torch.has_value() == (frame.arc_on && frame.move == moment.move));
        if (!torch)
            continue;
        ++seen;
        CHECK((torch->at - frame.torch).norm() < 0.001);
        const auto on_lifted = scene::torch_place(anchors, lifted_passes, *outcome, moment);
        CHECK((on_lifted->at - torch->at - part::Point(0, 0, 0.02)).norm() < 1e-9);
        const auto& weld = std::get<weld::WeldPass>(plan.moves[Index(moment.move)].what);
        const auto& line = passes.line[Index(weld.pass)];
        const double laid_m = (torch->at - (weld.reversed ? line.back() : line.front())).norm();
        CHECK(torch->share == doctest::Approx(laid_m / scene::length_m(line)));
        CHECK((moment.move != move || laid_m > before_m)); // it goes on
        move = moment.move, before_m = laid_m;
        const double side = torch->to_face.y() > 0 ? 1 : -1;
        for (const double eye : {1.0, -1.0})
            CHECK(scene::covered(torch->at, torch->to_face, seen_from(mesh, eye * std::numbers::pi / 2 + 0.3, 0.6),
                                 cells) == (eye != side));
    }
    CHECK(seen > 10);
}
