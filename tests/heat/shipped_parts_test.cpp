// Every shipped part is welded from the first pass of its file to the last, and left to cool.
#include "heat/pass_record.h"
#include "part/read_part.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

using namespace holdtrue;
using namespace holdtrue::heat;
using units::celsius;

TEST_CASE("on every shipped part heat is conserved and each pass gives sensible figures") {
    int parts = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets/parts")) {
        if (entry.path().extension() != ".toml")
            continue;
        CAPTURE(entry.path().string());
        ++parts;
        const auto part = part::read_part(entry.path());
        const auto mesh = std::make_shared<const part::Mesh>(part::build_mesh(*part));
        WeldHeat heat(part, mesh, {.ambient_k = part->ambient_k});
        PassRecord record(heat, 1e9);
        double brought_j = 0;
        for (std::size_t pass = 0; pass < part->passes.size(); ++pass) {
            const PassFigures f = record.weld({.pass = static_cast<int>(pass),
                                               .reversed = pass % 3 == 1,
                                               .net_power_w = 1800,
                                               .travel_m_per_s = 0.006,
                                               .plug_s = 4,
                                               .share_a = 0.4,
                                               .throat_m = 0.003});
            record.wait(10, 0);
            brought_j += f.heat_j;
            CAPTURE(part->passes[pass].name);
            CHECK(f.heat_j == doctest::Approx(1800 * (f.end_s - f.start_s)).epsilon(1e-9));
            CHECK(f.interpass_k >= part->ambient_k - 1e-6);
            CHECK(f.interpass_k <= f.peak_k);
            CHECK(f.peak_k > celsius(150)); // a 10 mm cell of 12 mm plate smears the arc
            CHECK(f.peak_k < celsius(3000));
            CHECK(f.width_800_m <= f.width_500_m);
            CHECK(f.width_500_m > 0.002);
            CHECK(f.width_500_m < 0.15);
            CHECK(f.t85_s >= 0);
            CHECK(f.t85_s < 300);
        }
        record.wait(0, part->ambient_k + 20);
        const Energy e = heat.energy();
        CHECK(e.brought_j == doctest::Approx(brought_j).epsilon(1e-12));
        CHECK(std::abs(e.brought_j - e.stored_j - e.lost_to_air_j - e.lost_to_clamps_j) < 1e-10 * e.brought_j);
        CHECK(heat.hottest_k() <= part->ambient_k + 20);
        CHECK(*std::ranges::min_element(heat.temperature_k()) > part->ambient_k - 0.5);
        CHECK(e.stored_j < 0.2 * e.brought_j);
    }
    CHECK(parts >= 6);
}
