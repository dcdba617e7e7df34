// The skin of the shipped parts, as drawn and distorted.
#include "app/scene/surface.h"
#include "exercises.h"
#include "part/read_part.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <map>
#include <random>
#include <set>

using namespace holdtrue;
using namespace holdtrue::app;

namespace {

using Index = std::size_t;

std::set<std::array<float, 3>> different(const std::vector<Eigen::Vector3f>& places) {
    std::set<std::array<float, 3>> all;
    for (const Eigen::Vector3f& place : places)
        all.insert({place.x(), place.y(), place.z()});
    return all;
}

} // namespace

TEST_CASE("every shipped part has a skin with every live node on it") {
    const test::Desk desk("scene");
    Session session(desk.places);
    for (const ShippedExercise& exercise : session.exercises()) {
        session.apply(act::Open{exercise.file});
        REQUIRE(session.problems().empty());
        const scene::Surface surface = scene::build_surface(*session.mesh());
        std::vector<bool> seen(session.mesh()->position_m.size(), false);
        for (const int node : surface.node)
            seen[Index(node)] = true;
        for (Index k = 0; k < seen.size(); ++k)
            CHECK(seen[k] == static_cast<bool>(session.mesh()->node_alive[k]));
        for (const Eigen::Vector3f& position : surface.position)
            CHECK(position.allFinite());
    }
}

TEST_CASE("faces that meet at a node meet in one point over it and one under it, however the part is distorted") {
    const std::filesystem::path parts = std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets" / "parts";
    for (const char* name : {"lift_arm.part.toml", "rail_frame.part.toml"}) {
        const part::Mesh mesh = part::build_mesh(*part::read_part(parts / name), 2);
        std::mt19937 random(1);
        std::normal_distribution<float> normal(0, 5e-5f);
        std::vector<Eigen::Vector3f> shape(mesh.position_m.size());
        for (Eigen::Vector3f& at : shape)
            at = {normal(random), normal(random), normal(random)};
        const scene::Surface skin = scene::build_surface(mesh, shape, 20);
        std::map<int, std::vector<Eigen::Vector3f>> at_node;
        for (Index k = 0; k < skin.position.size(); ++k)
            at_node[skin.node[k]].push_back(skin.position[k]);
        bool folded = false; // with vertices of more than one face
        for (const auto& [node, places] : at_node) {
            CHECK(different(places).size() == 2);
            folded = folded || places.size() > 3;
        }
        CHECK(folded);
    }
}
