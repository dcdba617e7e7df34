// The halves of a part by hand.
#include "part/read_part.h"
#include "weld/halves.h"

#include <doctest/doctest.h>

#include <filesystem>

using namespace holdtrue;

TEST_CASE("halves: a hot half is as much hotter as it is, an even part is even") {
    const std::filesystem::path root = HOLDTRUE_SOURCE_DIR;
    const part::Mesh mesh = part::build_mesh(*part::read_part(root / "assets/parts/lap_strip.part.toml"), 2);
    const weld::Halves halves(mesh);
    std::vector<double> field(mesh.position_m.size(), 400.0);
    for (const double difference : halves.difference_k(field))
        CHECK(difference == doctest::Approx(0).epsilon(1e-9));
    // The strips lie along x from 0 to 600 mm; z says nothing of sheets that lie flat on each other, or little.
    for (std::size_t n = 0; n < field.size(); ++n)
        field[n] = mesh.position_m[n].x() > 0.3 ? 380 : 300;
    CHECK(halves.difference_k(field)[0] == doctest::Approx(80).epsilon(0.02));
    CHECK(halves.difference_k(field)[1] == doctest::Approx(0).epsilon(1e-6));
}
