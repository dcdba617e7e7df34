// What a picture leaves out may not be seen: runs of triangles that turn their backs on the eye, isolines where none
// is.
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
