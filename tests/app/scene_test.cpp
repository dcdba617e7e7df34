// The scene without OpenGL: skin, picking, camera, and what an outcome shows at a time.
#include "app/scene/camera.h"
#include "app/scene/fit.h"
#include "app/scene/lines.h"
#include "app/scene/moment.h"
#include "app/scene/pick.h"
#include "app/scene/surface.h"
#include "exercises.h"
#include "part/mesh.h"
#include "part/read_part.h"

#include <Eigen/Geometry>
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <map>
#include <numbers>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::app;

namespace {

using Index = std::size_t;

// A flat plate 200 x 100 x 4 mm in the plane z = 0, with one seam along its long middle, cut into two runs.
part::Part plate() {
    part::Part part;
    part::Panel panel;
    panel.name = "plate";
    panel.profile_a = {{0, 0, 0}, {0.2, 0, 0}};
    panel.profile_b = {{0, 0.1, 0}, {0.2, 0.1, 0}};
    panel.thickness_m = 0.004;
    part.panels = {panel};
    part::Joint joint;
    joint.name = "seam";
    joint.type = part::JointType::butt;
    joint.path = {{0, 0.05, 0}, {0.2, 0.05, 0}};
    part.joints = {joint};
    part::Pass first, second;
    first.name = "seam/1";
    first.to_m = 0.1;
    second.name = "seam/2";
    second.from_m = 0.1;
    second.to_m = 0.2;
    part.passes = {first, second};
    part.poses = {{"flat", {0, 0, 1}, 0}};
    part.element_m = 0.01;
    return part;
}

double volume_m3(const scene::Surface& surface) { // divergence theorem
    double six = 0;
    for (Index k = 0; k < surface.triangle.size(); k += 3) {
        const auto v = [&](Index c) { return surface.position[surface.triangle[k + c]].cast<double>().eval(); };
        six += v(0).dot(v(1).cross(v(2)));
    }
    return six / 6;
}

scene::Projection from_above(double height_m = 1) {
    scene::Camera camera;
    camera.target = {0.1, 0.05, 0};
    camera.distance_m = height_m;
    scene::look_from(camera, scene::StandardView::top);
    return {camera, Eigen::Matrix3d::Identity(), 800, 600};
}

// Two moves: a run of 10 s, a wait of 10 s; then 20 s of cooling. Node k is 300 K, then 400 K + k.
weld::Outcome outcome_of(const part::Part& part) {
    weld::Outcome outcome;
    outcome.part = std::make_shared<const part::Part>(part);
    outcome.mesh = std::make_shared<const part::Mesh>(part::build_mesh(part));
    const Index nodes = outcome.mesh->position_m.size();
    outcome.plan.moves = {{weld::WeldPass{0, false, 0}, 0}, {weld::Wait{10, {}}, 0}};
    outcome.moves.resize(2);
    outcome.moves[0].start_s = 0, outcome.moves[0].end_s = 10, outcome.moves[0].welded = true;
    outcome.moves[1].start_s = 10, outcome.moves[1].end_s = 20;
    outcome.total_s = 40;
    for (const double time_s : {0.0, 10.0, 40.0}) {
        weld::Frame frame;
        frame.time_s = time_s;
        frame.temperature_k.assign(nodes, 300.0f);
        if (time_s == 10.0)
            for (Index k = 0; k < nodes; ++k)
                frame.temperature_k[k] = 400.0f + static_cast<float>(k);
        frame.arc_on = time_s == 0;
        frame.torch = {0.05, 0.05, 0};
        outcome.frames.push_back(frame);
    }
    for (const float z : {0.001f, 0.001f, 0.003f})
        outcome.displacement_m.emplace_back(nodes, Eigen::Vector3f(0, 0, z));
    weld::GaugeOutcome gauge;
    gauge.nominal = 0.5;
    gauge.value = 0.504;
    gauge.after_move = {0.502, 0.502};
    outcome.gauges = {gauge};
    return outcome;
}

} // namespace

TEST_CASE("the skin of a plate is closed and holds the plate's metal") {
    const part::Mesh mesh = part::build_mesh(plate());
    const scene::Surface surface = scene::build_surface(mesh);
    // 200 x 100 x 4 mm, exactly; the vertices are floats.
    CHECK(volume_m3(surface) == doctest::Approx(0.2 * 0.1 * 0.004).epsilon(1e-4));
    // Every edge is met by an even number of triangles: there is no gap to look through.
    std::map<std::array<long, 6>, int> edges;
    for (Index k = 0; k < surface.triangle.size(); k += 3)
        for (Index c = 0; c < 3; ++c) {
            std::array<std::array<long, 3>, 2> ends{};
            for (Index e = 0; e < 2; ++e)
                for (int axis = 0; axis < 3; ++axis)
                    ends[e][Index(axis)] =
                        std::lround(surface.position[surface.triangle[k + (c + e) % 3]][axis] * 1e7f);
            if (ends[1] < ends[0])
                std::swap(ends[0], ends[1]);
            ++edges[{ends[0][0], ends[0][1], ends[0][2], ends[1][0], ends[1][1], ends[1][2]}];
        }
    for (const auto& [edge, count] : edges)
        CHECK(count % 2 == 0);
    // Each side of the plate has an edge over and one under it.
    CHECK(surface.outline.size() == 8);
    CHECK(surface.cell_of_triangle.size() * 3 == surface.triangle.size());
    for (const Eigen::Vector3f& normal : surface.normal)
        CHECK(normal.norm() == doctest::Approx(1).epsilon(1e-5));
}

TEST_CASE("displacements move the skin by what they say times the exaggeration") {
    const part::Mesh mesh = part::build_mesh(plate());
    const std::vector<Eigen::Vector3f> up(mesh.position_m.size(), Eigen::Vector3f(0, 0, 0.001f));
    const scene::Surface still = scene::build_surface(mesh), moved = scene::build_surface(mesh, up, 20);
    REQUIRE(still.position.size() == moved.position.size());
    for (Index k = 0; k < still.position.size(); ++k)
        CHECK((moved.position[k] - still.position[k] - Eigen::Vector3f(0, 0, 0.02f)).norm() < 1e-6f);
}

TEST_CASE("a point goes to the screen and its ray comes back through it") {
    const scene::Camera camera{{0.1, 0.2, 0.3}, 2, 0.7, 0.4, 0.45, {0.05, -0.1}};
    const scene::Projection projection(camera, scene::standing({1, 0, 0}), 1280, 720);
    for (const part::Point& point : {part::Point(0.2, -0.1, 0.3), part::Point(0, 0, 0), part::Point(-0.3, 0.2, 0.1)}) {
        const auto seen = projection.to_screen(point);
        const auto ray = projection.ray(seen.x_px, seen.y_px);
        CHECK((point - ray.origin).cross(ray.direction).norm() < 1e-9);
        // The matrices that go to the shader say the same.
        const Eigen::Vector4f clip = projection.clip_from_view * projection.view_from_part *
                                     Eigen::Vector4f(float(point.x()), float(point.y()), float(point.z()), 1);
        CHECK((clip.x() / clip.w() * 0.5f + 0.5f) * 1280 == doctest::Approx(seen.x_px).epsilon(1e-3));
        CHECK((0.5f - clip.y() / clip.w() * 0.5f) * 720 == doctest::Approx(seen.y_px).epsilon(1e-3));
    }
    CHECK((scene::standing({0, 0, -2}) * part::Point(0, 0, -1) - part::Point(0, 0, 1)).norm() < 1e-12);
    CHECK((scene::standing({0, 3, 0}) * part::Point(0, 1, 0) - part::Point(0, 0, 1)).norm() < 1e-12);
}

namespace {

// Corners of the box on the screen, as fitted; each must be seen.
std::vector<scene::Projection::OnScreen> fitted_corners(scene::StandardView view, const scene::Box& box,
                                                        const scene::Frame& frame) {
    scene::Camera camera;
    scene::look_from(camera, view);
    scene::fit(camera, box, frame);
    const scene::Projection projection(camera, Eigen::Matrix3d::Identity(), frame.width_px, frame.height_px);
    std::vector<scene::Projection::OnScreen> corners;
    for (int k = 0; k < 8; ++k) {
        corners.push_back(projection.to_screen({k & 1 ? box.high.x() : box.low.x(), k & 2 ? box.high.y() : box.low.y(),
                                                k & 4 ? box.high.z() : box.low.z()}));
        CHECK(corners.back().depth_m > 0);
        CHECK(corners.back().x_px >= 0);
        CHECK(corners.back().x_px <= frame.width_px);
        CHECK(corners.back().y_px >= 0);
        CHECK(corners.back().y_px <= frame.height_px);
    }
    return corners;
}

scene::Box long_box() {
    scene::Box box;
    box.add({-0.1, -0.02, 0});
    box.add({0.9, 0.05, 0.12});
    return box;
}

constexpr std::array standard_views{scene::StandardView::front, scene::StandardView::back, scene::StandardView::left,
                                    scene::StandardView::right, scene::StandardView::top,  scene::StandardView::bottom,
                                    scene::StandardView::corner};

} // namespace

TEST_CASE("fit brings every corner into the picture, from every standard view and in any shape of window") {
    for (const scene::StandardView view : standard_views)
        for (const double aspect : {0.5, 1.0, 2.4})
            fitted_corners(view, long_box(), {600 * aspect, 600, {}});
}

TEST_CASE("fit keeps the box clear of what lies over the picture, from every standard view") {
    for (const scene::StandardView view : standard_views)
        for (const double aspect : {0.8, 1.0, 2.4}) {
            const double width = 600 * aspect;
            const scene::Rectangle buttons{0.4 * width, 0, width, 44}, legend{12, 340, 130, 588};
            const auto corners = fitted_corners(view, long_box(), {width, 600, {buttons, legend}});
            // Every place of the box lies between its corners: on lines between any two of them, none is covered.
            for (const auto& a : corners)
                for (const auto& b : corners)
                    for (double share = 0; share <= 1; share += 0.05) {
                        const double x = a.x_px + share * (b.x_px - a.x_px), y = a.y_px + share * (b.y_px - a.y_px);
                        for (const scene::Rectangle& covered : {buttons, legend})
                            CHECK_FALSE((x > covered.left_px && x < covered.right_px && y > covered.top_px &&
                                         y < covered.bottom_px));
                    }
        }
}

TEST_CASE("what lies clear of the part anyway does not move it, and a covered view is fitted as if it were free") {
    scene::Camera free, beside, covered;
    scene::fit(free, long_box(), {1200, 600, {}});
    scene::fit(beside, long_box(), {1200, 600, {{0, 560, 40, 600}}});
    CHECK(free == beside);
    scene::fit(covered, long_box(), {1200, 600, {{0, 0, 1200, 600}}});
    CHECK(free == covered);
}

TEST_CASE("a shifted picture shows the target where the shift says") {
    scene::Camera camera{{0.1, 0.2, 0.3}, 2, 0.7, 0.4, 0.45, {0.25, 0.1}};
    const auto seen = scene::Projection(camera, Eigen::Matrix3d::Identity(), 1280, 720).to_screen(camera.target);
    CHECK(seen.x_px == doctest::Approx(640 + 0.25 * 720));
    CHECK(seen.y_px == doctest::Approx(360 - 0.1 * 720));
}

TEST_CASE("zooming about a place leaves it where it is on the screen") {
    scene::Camera camera;
    const part::Point place(0.3, -0.2, 0.1);
    const auto before = scene::Projection(camera, Eigen::Matrix3d::Identity(), 800, 600).to_screen(place);
    scene::zoom(camera, 0.7, place);
    const auto after = scene::Projection(camera, Eigen::Matrix3d::Identity(), 800, 600).to_screen(place);
    CHECK(after.x_px == doctest::Approx(before.x_px));
    CHECK(after.y_px == doctest::Approx(before.y_px));
    CHECK(after.depth_m < before.depth_m);
}

TEST_CASE("a ray finds the place it was aimed at, and metal hides what lies behind it") {
    const part::Mesh mesh = part::build_mesh(plate());
    const scene::CellFinder cells(mesh, mesh.position_m);
    const scene::Projection projection = from_above();
    for (const part::Point& point : {part::Point(0.033, 0.071, 0), part::Point(0.15, 0.02, 0)}) {
        const auto seen = projection.to_screen(point);
        const auto hit = cells.first_hit(projection.ray(seen.x_px, seen.y_px));
        REQUIRE(hit);
        CHECK((hit->place.position - point).norm() < 1e-9);
        CHECK((part::at(hit->place, mesh.position_m) - point).norm() < 1e-9);
        CHECK(hit->place.weight[0] + hit->place.weight[1] + hit->place.weight[2] + hit->place.weight[3] ==
              doctest::Approx(1));
    }
    CHECK_FALSE(cells.first_hit(projection.ray(5, 5)));
    CHECK(cells.hidden({0.1, 0.05, 1}, {0.1, 0.05, -0.5}, 0.001));
    CHECK_FALSE(cells.hidden({0.1, 0.05, 1}, {0.1, 0.05, 0.5}, 0.001));
    CHECK_FALSE(cells.hidden({0.1, 0.05, 1}, {0.1, 0.05, 0}, 0.001));
}

TEST_CASE("the pass under the pointer is picked, within reach only") {
    const part::Part part = plate();
    const part::Mesh mesh = part::build_mesh(part);
    const scene::CellFinder cells(mesh, mesh.position_m);
    const auto lines = scene::lay_passes(part, mesh, scene::anchor_passes(part, mesh), mesh.position_m);
    const scene::Projection projection = from_above();
    const auto first = projection.to_screen({0.04, 0.05, 0}), second = projection.to_screen({0.16, 0.05, 0});
    REQUIRE(scene::pick_pass(lines, projection, cells, first.x_px, first.y_px + 3, 8));
    CHECK(scene::pick_pass(lines, projection, cells, first.x_px, first.y_px + 3, 8) == 0);
    CHECK(scene::pick_pass(lines, projection, cells, second.x_px, second.y_px - 3, 8) == 1);
    CHECK_FALSE(scene::pick_pass(lines, projection, cells, second.x_px, second.y_px - 20, 8));
}

TEST_CASE("a thin sheet hides the passes on its far side, and those of a butt show on both") {
    const auto tee = part::read_part(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts/tee_coupon.part.toml");
    const part::Mesh mesh = part::build_mesh(*tee);
    const scene::CellFinder cells(mesh, mesh.position_m);
    const auto lines = scene::lay_passes(*tee, mesh, scene::anchor_passes(*tee, mesh), mesh.position_m);
    scene::Box box;
    for (const part::Point& point : mesh.position_m)
        box.add(point);
    // Of the two fillets, one on each side of the web, either eye sees one.
    std::vector<std::vector<bool>> hidden;
    for (const double side : {-1.0, 1.0}) {
        scene::Camera camera;
        camera.azimuth_rad = side * std::numbers::pi / 2 + 0.3;
        camera.elevation_rad = 0.6;
        scene::fit(camera, box, {800, 600, {}});
        const scene::Projection projection(camera, Eigen::Matrix3d::Identity(), 800, 600);
        hidden.push_back(scene::hidden_passes(lines, projection, cells));
        for (Index p = 0; p < lines.middle.size(); ++p) { // nor can it be clicked through the sheet
            const auto at = projection.to_screen(lines.middle[p]);
            const auto picked = scene::pick_pass(lines, projection, cells, at.x_px, at.y_px, 4);
            CHECK((picked && hidden.back()[std::size_t(*picked)]) == false);
        }
    }
    for (Index p = 0; p < tee->passes.size(); ++p) {
        CAPTURE(tee->passes[p].name);
        const bool right = lines.middle[p].y() > 0;
        CHECK(hidden[0][p] == right);
        CHECK(hidden[1][p] != right);
    }
    const part::Part butt = plate();
    const part::Mesh flat = part::build_mesh(butt);
    const scene::CellFinder flat_cells(flat, flat.position_m);
    const auto seam = scene::lay_passes(butt, flat, scene::anchor_passes(butt, flat), flat.position_m);
    for (const scene::StandardView view : {scene::StandardView::top, scene::StandardView::bottom}) {
        scene::Camera camera;
        scene::look_from(camera, view);
        const scene::Projection projection(camera, Eigen::Matrix3d::Identity(), 800, 600);
        for (const bool covered : scene::hidden_passes(seam, projection, flat_cells))
            CHECK_FALSE(covered);
    }
}

TEST_CASE("pass lines ride on the distorted sheet, and the laid part of one grows from its start") {
    const part::Part part = plate();
    const part::Mesh mesh = part::build_mesh(part);
    std::vector<part::Point> lifted = mesh.position_m;
    for (part::Point& point : lifted)
        point.z() += 0.05;
    const auto lines = scene::lay_passes(part, mesh, scene::anchor_passes(part, mesh), lifted);
    CHECK((lines.line[0].front() - part::Point(0, 0.05, 0.05)).norm() < 1e-9);
    CHECK((lines.middle[1] - part::Point(0.15, 0.05, 0.05)).norm() < 1e-9);
    CHECK(scene::length_m(lines.line[0]) == doctest::Approx(0.1));
    const auto laid = scene::first_part(lines.line[0], 0.3, false), back = scene::first_part(lines.line[0], 0.3, true);
    CHECK(scene::length_m(laid) == doctest::Approx(0.03));
    CHECK((laid.front() - lines.line[0].front()).norm() < 1e-9);
    CHECK((back.front() - lines.line[0].back()).norm() < 1e-9);
}

TEST_CASE("an outcome between two stored states is their weighted mean") {
    const weld::Outcome outcome = outcome_of(plate());
    const scene::Moment middle = scene::moment_at(outcome, 5);
    CHECK(middle.move == 0);
    CHECK(middle.move_share == doctest::Approx(0.5));
    CHECK(middle.arc_on);
    const auto field = scene::temperature_k(outcome, middle);
    CHECK(field[0] == doctest::Approx(350));
    CHECK(field[10] == doctest::Approx(355));
    CHECK(scene::displacement_m(outcome, middle)[3].z() == doctest::Approx(0.0005));
    CHECK(scene::gauge_value(outcome, 0, middle) == doctest::Approx(0.501));

    const scene::Moment waiting = scene::moment_at(outcome, 15);
    CHECK(waiting.move == 1);
    CHECK(scene::gauge_value(outcome, 0, waiting) == doctest::Approx(0.502));

    const scene::Moment end = scene::moment_at(outcome, 1e6);
    CHECK(end.move == 2);
    CHECK(scene::displacement_m(outcome, end)[0].z() == doctest::Approx(0.003));
    CHECK(scene::gauge_value(outcome, 0, end) == doctest::Approx(0.504));
    CHECK(scene::temperature_k(outcome, end)[7] == doctest::Approx(300));
    CHECK(scene::moment_at(outcome, -5).move == 0);

    const part::Attachment place = part::attach(*outcome.mesh, 0, {0.1, 0.05, 0});
    const auto history = scene::history(outcome, place);
    REQUIRE(history.size() == 3);
    CHECK(history[1].kelvin > history[0].kelvin);
}
