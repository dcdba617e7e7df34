// What a picture leaves out may not be seen: runs of triangles that turn their backs on the eye, isolines where none
// is, values that have hardly changed, and what lies outside of a box.
#include "app/scene/shown_part.h"
#include "app/scene/triangle_runs.h"
#include "part/read_part.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <random>

using namespace holdtrue;
using namespace holdtrue::app;

namespace {

scene::Surface skin_of(const std::string& part) {
    const auto read = part::read_part(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" / "parts" / part);
    return scene::build_surface(part::build_mesh(*read, 2));
}

// From an eye anywhere about the origin, looking anywhere.
Eigen::Matrix4f view_from(std::mt19937& random, float distance_m) {
    std::normal_distribution<float> normal;
    const auto direction = [&] { return Eigen::Vector3f(normal(random), normal(random), normal(random)).normalized(); };
    const Eigen::Quaternionf turn(normal(random), normal(random), normal(random), normal(random));
    Eigen::Isometry3f eye = Eigen::Isometry3f::Identity();
    eye.translate(distance_m * direction());
    eye.rotate(turn.normalized());
    return eye.inverse().matrix();
}

} // namespace

TEST_CASE("every triangle that faces the eye is in a run that is drawn, and many that do not are left out") {
    const scene::Surface skin = skin_of("lift_arm.part.toml");
    const std::vector<scene::TriangleRun> runs = scene::triangle_runs(skin);
    std::size_t covered = 0;
    for (const scene::TriangleRun& run : runs) {
        CHECK(run.start == covered);
        covered += run.count;
    }
    CHECK(covered == skin.triangle.size());

    std::mt19937 random(1);
    for (int k = 0; k < 60; ++k) {
        const Eigen::Matrix4f view = view_from(random, k < 30 ? 0.3f : 3.0f); // among the metal, and far off
        const Eigen::Vector3f eye = Eigen::Isometry3f(view).inverse().translation();
        const auto drawn = scene::facing_the_eye(runs, view);
        std::size_t missed = 0, left_out = skin.triangle.size();
        for (const scene::TriangleRun& run : runs) {
            const bool is_drawn = std::ranges::find(drawn, &run) != drawn.end();
            left_out -= is_drawn ? run.count : 0;
            for (std::size_t t = run.start; t < run.start + run.count; t += 3) {
                const auto corner = [&](std::size_t j) { return skin.position[skin.triangle[t + j]]; };
                const Eigen::Vector3f normal = (corner(1) - corner(0)).cross(corner(2) - corner(0));
                missed += !is_drawn && normal.dot(eye - corner(0)) > 1e-5f * normal.norm();
            }
        }
        CHECK(missed == 0);
        CHECK(left_out > skin.triangle.size() / 10);
        const auto depth = [&](const scene::TriangleRun* run) { return -(view * run->middle.homogeneous()).z(); };
        CHECK(std::ranges::is_sorted(drawn, {}, [&](const auto* run) { return std::round(1e4f * depth(run)); }));
    }
}

TEST_CASE("the values of a run hold those of its corners, and as much again of each triangle's span") {
    const scene::Surface skin = skin_of("tee_coupon.part.toml");
    std::vector<scene::TriangleRun> runs = scene::triangle_runs(skin);
    std::vector<float> value;
    for (const Eigen::Vector3f& place : skin.position)
        value.push_back(300 + 1000 * place.x());
    scene::span_values(runs, skin.triangle, value);
    for (const scene::TriangleRun& run : runs) {
        float least = 1e9f, most = -1e9f;
        for (std::size_t k = run.start; k < run.start + run.count; ++k) {
            least = std::min(least, value[skin.triangle[k]]);
            most = std::max(most, value[skin.triangle[k]]);
        }
        CHECK(run.low <= least);
        CHECK(run.high >= most);
        CHECK(run.high - run.low <= 3 * (most - least) + 1e-3f);
    }
}

TEST_CASE("values that are shown stay near those wanted, and what has changed is marked") {
    const scene::Surface skin = skin_of("tee_coupon.part.toml");
    const std::vector<scene::TriangleRun> runs = scene::triangle_runs(skin);
    std::mt19937 random(1);
    std::vector<float> wanted(skin.position.size(), 300.0f), shown = wanted;
    std::size_t kept = 0;
    for (int frame = 0; frame < 50; ++frame) {
        const float warmer = std::uniform_real_distribution<float>(0, 4)(random);
        for (std::size_t k = 0; k < wanted.size(); ++k)
            wanted[k] += warmer * std::max(0.0f, 1 - 20 * skin.position[k].head<2>().norm());
        const std::vector<float> before = shown;
        std::vector<char> changed(shown.size(), 0);
        constexpr float unseen = 2;
        scene::follow_values(runs, skin.triangle, wanted, unseen, shown, changed);
        for (std::size_t k = 0; k < shown.size(); ++k) {
            CHECK(std::abs(shown[k] - wanted[k]) <= unseen);
            CHECK((shown[k] != before[k]) == (changed[k] != 0));
            kept += shown[k] != wanted[k];
        }
    }
    CHECK(kept > 0);
    std::vector<char> changed(shown.size(), 0);
    scene::follow_values(runs, skin.triangle, wanted, 0, shown, changed);
    CHECK(shown == wanted);
}

TEST_CASE("the box of points holds each of them where the projection puts it, and is no larger") {
    const scene::Projection projection(scene::Camera{}, Eigen::Matrix3d::Identity(), 800, 600);
    const scene::View view{projection.view_from_part, projection.clip_from_view, 800, 600};
    std::mt19937 random(1);
    std::normal_distribution<double> normal(0, 0.1);
    for (int k = 0; k < 100; ++k) {
        scene::SeenBox seen(view);
        Eigen::AlignedBox2d held;
        for (int point = 0; point < 3; ++point) {
            const Eigen::Vector3d at(normal(random), normal(random), normal(random));
            const auto on_screen = projection.to_screen(at);
            held.extend(Eigen::Vector2d(on_screen.x_px, on_screen.y_px));
            seen.add(at.cast<float>());
        }
        const PixelBox box = seen.box(1);
        CHECK(box.left <= held.min().x() - 0.99);
        CHECK(box.top <= held.min().y() - 0.99);
        CHECK(box.right >= held.max().x() + 0.99);
        CHECK(box.bottom >= held.max().y() + 0.99);
        CHECK(box.right - box.left <= held.sizes().x() + 4);
        CHECK(box.bottom - box.top <= held.sizes().y() + 4);
    }
    scene::SeenBox behind(view);
    CHECK(behind.box(1).empty());
    behind.add((2 * projection.eye()).cast<float>());
    CHECK(behind.box(1) == view.whole());
}

TEST_CASE("what a picture shows changed lies where the change is, and nothing has changed twice") {
    const scene::Surface skin = skin_of("tee_coupon.part.toml");
    scene::Camera camera;
    camera.distance_m = 0.6;
    const scene::Projection projection(camera, Eigen::Matrix3d::Identity(), 800, 600);
    const scene::View view{projection.view_from_part, projection.clip_from_view, 800, 600};
    std::vector<float> per_node(1 + static_cast<std::size_t>(*std::ranges::max_element(skin.node)), 300.0f);
    std::vector<scene::Segment> lines(3);
    for (int k = 0; k < 3; ++k)
        lines[static_cast<std::size_t>(k)].b = {0.01f * static_cast<float>(k), 0, 0.02f};

    scene::ShownPart shown;
    shown.set_surface(skin);
    shown.set_values(per_node, 0);
    shown.set_lines(lines);
    shown.aim(view);
    const auto inside = [](const PixelBox& box, const PixelBox& of) { return common(box, of) == box; };
    CHECK(inside(shown.bounds(), view.whole()));
    CHECK(!shown.take_changed().empty());
    CHECK(shown.take_changed().empty());

    // Warmer at one vertex that faces the eye.
    const scene::TriangleRun& front = *shown.runs_in(view.whole()).front();
    const std::uint32_t warm = skin.triangle[front.start];
    per_node[static_cast<std::size_t>(skin.node[warm])] = 301;
    shown.set_values(per_node, 2);
    CHECK(shown.take_changed().empty());
    shown.set_values(per_node, 0.5f);
    scene::SeenBox there(view);
    there.add(skin.position[warm]);
    const auto boxes = shown.take_changed();
    CHECK(std::ranges::any_of(boxes, [&](const PixelBox& box) { return inside(there.box(0), box); }));
    for (const PixelBox& box : boxes)
        CHECK(inside(box, shown.bounds()));
    const auto runs = shown.runs_in(there.box(0));
    CHECK(std::ranges::find(runs, &front) != runs.end());
    CHECK(runs.size() < shown.runs_in(view.whole()).size());

    // One line of three, seen where it was and where it is.
    lines[1].b.z() = 0.05f;
    shown.set_lines(lines);
    shown.aim(view);
    CHECK(shown.take_changed().size() == 2);
    CHECK(shown.lines_in(view.whole()).size() == 3);
    CHECK(shown.lines_in({}).empty());
}
