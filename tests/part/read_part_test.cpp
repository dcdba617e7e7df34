#include "part/mesh.h"
#include "part/read_part.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

using namespace holdtrue::part;

TEST_CASE("the shipped tee coupon is read as written") {
    const auto part = read_part(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts/tee_coupon.part.toml");
    REQUIRE(part->panels.size() == 2);
    CHECK(part->panels[0].thickness_m == doctest::Approx(0.005));
    REQUIRE(part->joints.size() == 2);
    CHECK(part->joints[0].size_m == doctest::Approx(0.004));
    CHECK(part->joints[0].card_group == "fillets");
    // Two tacks and two runs a side.
    REQUIRE(part->passes.size() == 8);
    CHECK(find_pass(*part, "right/2") == 7);
    CHECK(part->passes[0].kind == PassKind::tack);
    // Tacks are four thicknesses long.
    CHECK(part->passes[0].to_m - part->passes[0].from_m == doctest::Approx(0.020));
    CHECK(part->gauges[0].tolerance == doctest::Approx(3.14159265 / 180));
    CHECK(part->gauges[2].tolerance == doctest::Approx(0.001));
    CHECK(part->gauges[2].tolerance_source.english() == "ISO 13920 class E (straightness and flatness) at 196 mm");
    CHECK(build_mesh(*part).node_count() > 500);
}

TEST_CASE("every shipped part is read and meshed in a size that runs fast") {
    int parts = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts")) {
        CAPTURE(entry.path().filename().string());
        const auto part = read_part(entry.path());
        const Mesh mesh = build_mesh(*part);
        MESSAGE(part->name << ": " << mesh.node_count() << " nodes, " << part->passes.size() << " passes");
        CHECK(mesh.node_count() > 500);
        CHECK(mesh.node_count() < 8000);
        for (const Pass& pass : part->passes)
            CHECK(find_pass(*part, pass.name) == &pass - part->passes.data()); // names are unique
        ++parts;
    }
    CHECK(parts >= 6);
}

namespace {

std::string with(const std::string& text, const std::string& what, const std::string& instead) {
    std::string changed = text;
    const std::size_t at = changed.find(what);
    REQUIRE(at != std::string::npos);
    return changed.replace(at, what.size(), instead);
}

} // namespace

TEST_CASE(
    "a misspelt kind of panel, joint or gauge is one mistake: what else its table holds is not judged by another") {
    std::ifstream in(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts/lift_arm.part.toml");
    const std::string arm{std::istreambuf_iterator<char>(in), {}};
    for (const auto& [right, wrong] : {std::pair{"kind = \"channel\"", "kind = \"chanel\""},
                                       {"type = \"plug\"", "type = \"plgu\""},
                                       {"type = \"fillet\"", "type = \"filet\""},
                                       {"kind = \"twist\"", "kind = \"twits\""},
                                       {"kind = \"tilt\"", "nothing = \"tilt\""}}) {
        CAPTURE(wrong);
        try {
            parse_part(with(arm, right, wrong), "arm.part.toml");
            FAIL("read without complaint");
        } catch (const holdtrue::text::InputError& error) {
            CHECK(error.problems().size() == 1);
        }
    }
}

TEST_CASE("no file can ask for more cells than a machine holds, by one long edge or by many panels") {
    std::ifstream in(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts/lap_strip.part.toml");
    const std::string strip{std::istreambuf_iterator<char>(in), {}};
    const auto refused = [](const std::string& text) {
        try {
            parse_part(text, "strip.part.toml");
            return std::string();
        } catch (const holdtrue::text::InputError& error) {
            return std::string(error.what());
        }
    };
    CHECK(refused(strip).empty());
    const std::string cells = "the part would be cut into";
    CHECK(refused(with(strip, "[600, 20, 0]", "[6000, 20, 0]")).find(cells) != std::string::npos);
    CHECK(refused(with(strip, "element_mm = 8", "element_mm = 1")).find(cells) != std::string::npos);
    // Each within the limit, but not all of them.
    std::string plates = with(strip, "element_mm = 8", "element_mm = 2");
    CHECK(refused(plates).empty());
    for (int k = 0; k < 20; ++k)
        plates += "\n[[panel]]\nname = \"more" + std::to_string(k) +
                  "\"\nkind = \"plate\"\nthickness_mm = 2\ncorners_mm = [[0, 0, 50], [600, 0, 50], [600, 100, 50], [0, "
                  "100, 50]]\n";
    CHECK(refused(plates).find(cells) != std::string::npos);
}
