// Damaged files are refused or read, never a crash or a hang: every shipped file cut off at many places, and with
// single bytes changed.
#include "arc/read_shop.h"
#include "command_line/program.h"
#include "grading/read_exercise.h"
#include "part/mesh.h"
#include "part/read_part.h"
#include "text/input_error.h"
#include "weld/read_plan.h"

#include <doctest/doctest.h>

#include <functional>
#include <random>
#include <string>

using namespace holdtrue;

namespace {

struct Tally {
    int refused = 0, read = 0;
};

void try_one(Tally& tally, const std::string& content, const std::function<void(const std::string&)>& reader) {
    try {
        reader(content);
        ++tally.read;
    } catch (const text::InputError& error) {
        CHECK(!error.problems().empty());
        for (const text::Problem& problem : error.problems()) {
            CHECK(!problem.file.empty());
            CHECK(!problem.what.empty());
        }
        ++tally.refused;
    }
}

Tally damage(const std::filesystem::path& file, const std::function<void(const std::string&)>& reader) {
    const std::string good = test::content_of(file);
    REQUIRE(!good.empty());
    Tally tally;
    for (std::size_t length = 0; length < good.size(); length += 1 + good.size() / 150)
        try_one(tally, good.substr(0, length), reader);
    std::mt19937 random(20240229);
    for (int trial = 0; trial < 200; ++trial) {
        std::string bad = good;
        for (int flips = 0; flips < 1 + trial % 4; ++flips)
            bad[random() % bad.size()] =
                static_cast<char>(trial % 2 ? random() % 256 : "0123456789.-[]\"=#\n"[random() % 18]);
        try_one(tally, bad, reader);
    }
    return tally;
}

const std::filesystem::path source = HOLDTRUE_SOURCE_DIR;

} // namespace

TEST_CASE("damaged part files") {
    for (const auto& entry : std::filesystem::directory_iterator(source / "assets/parts")) {
        CAPTURE(entry.path().string());
        const Tally tally = damage(entry.path(), [](const std::string& content) {
            // What is read must be fit for meshing too.
            const auto part = part::parse_part(content, "damaged.part.toml");
            CHECK(part::build_mesh(*part).node_count() > 0);
        });
        CHECK(tally.refused > 100);
    }
}

TEST_CASE("damaged shop files") {
    const Tally tally = damage(source / "assets/shops/rookwood.shop.toml",
                               [](const std::string& content) { arc::parse_shop(content, "damaged.shop.toml"); });
    CHECK(tally.refused > 100);
}

TEST_CASE("damaged plan files") {
    const grading::Exercise exercise = grading::read_exercise(source / "lessons/exercises/lift_arm.exercise.toml");
    const Tally tally = damage(source / "lessons/exercises/lift_arm.model.plan.toml", [&](const std::string& content) {
        weld::parse_plan(content, "damaged.plan.toml", *exercise.part, *exercise.shop);
    });
    CHECK(tally.refused > 100);
}

TEST_CASE("damaged exercise files") {
    const test::ShippedCopy shipped;
    const std::filesystem::path file = shipped.find("tee_coupon.exercise.toml");
    const Tally tally = damage(source / "lessons/exercises/tee_coupon.exercise.toml", [&](const std::string& content) {
        test::write(file, content);
        grading::read_exercise(file);
    });
    CHECK(tally.refused > 100);
}
