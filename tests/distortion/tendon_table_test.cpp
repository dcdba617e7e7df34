#include "distortion/strip_model.h"
#include "distortion/tendon_table.h"
#include "units/units.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::distortion;

namespace {

TendonCase butt(double heat_j_per_m) {
    TendonCase of;
    of.a = of.b = {0.003, 0.04, 235e6, false};
    of.heat_j_per_m = heat_j_per_m;
    return of;
}

double total(const Tendon& tendon) { return tendon.force_n[0] + tendon.force_n[1]; }

} // namespace

TEST_CASE("a table holds what the strip model gives") {
    const TendonCase of = butt(150e3);
    const TendonTable table(of);
    REQUIRE(table.converged());
    const StripMetal metal(YieldCurve::effective);
    for (const double start_k : {units::celsius(20), units::celsius(60), units::celsius(250)}) {
        StripModel model(joint_section(of.a, of.b, false), metal, {}, {false, 0, 0}, start_k);
        TorchPass torch;
        torch.heat_j_per_m = of.heat_j_per_m;
        model.weld(torch);
        model.cool();
        const StripResult exact = model.result(0);
        const Tendon read = table.at(start_k, 0);
        CHECK(total(read) == doctest::Approx(exact.tendon_force_n).epsilon(0.02));
        CHECK(read.force_n[0] == doctest::Approx(exact.side_force_n[0]).epsilon(0.02));
        CHECK(read.strip_m[1] == doctest::Approx(exact.side_strip_m[1]).epsilon(0.03));
    }
}

TEST_CASE("a table's force falls with stress from compression to tension, and is nothing near yield") {
    const TendonTable table(butt(150e3));
    for (const double start_k : {units::celsius(20), units::celsius(150)}) {
        double before = 1e9;
        for (double level = -0.9; level <= 0.96; level += 0.05) {
            const double force = total(table.at(start_k, level * 235e6));
            CHECK(force < before);
            CHECK(force > 0);
            before = force;
        }
        CHECK(before < 0.1 * total(table.at(start_k, 0)));
        // Beyond the table its edge counts.
        CHECK(total(table.at(start_k, 2 * 235e6)) == total(table.at(start_k, 0.95 * 235e6)));
    }
    const Tendon tendon = table.at(units::celsius(20), 0);
    CHECK(tendon.band_n > 0.03 * total(tendon)); // the two yield curves differ
    CHECK(tendon.band_n < 0.2 * total(tendon));
}

TEST_CASE("no heat, an empty table") {
    const TendonTable table(butt(0));
    CHECK(total(table.at(units::celsius(20), 0)) == 0);
    CHECK(table.at(units::celsius(100), -100e6).band_n == 0);
}

TEST_CASE("a tee shares its force as its members share the heat") {
    TendonCase tee;
    tee.a = {0.005, 0.06, 235e6, false};
    tee.b = {0.005, 0.05, 235e6, true};
    tee.b_across = true;
    tee.heat_j_per_m = 300e3;
    const TendonTable table(tee);
    REQUIRE(table.converged());
    const Tendon even = table.at(units::celsius(20), 0);
    CHECK(even.force_n[1] > even.force_n[0]); // the flange conducts to both sides: more of it gets hot
    CHECK(total(even) / 300e3 > 0.15);
    CHECK(total(even) / 300e3 < 0.205);
    tee.share_a = 0.8;
    CHECK(TendonTable(tee).at(units::celsius(20), 0).force_n[0] > even.force_n[0]);
    // Thick to thin: most of the strip lies in the thin member's zone that is hot through.
    TendonCase uneven = butt(200e3);
    uneven.b.thickness_m = 0.008;
    const Tendon thick = TendonTable(uneven).at(units::celsius(20), 0);
    CHECK(thick.force_n[0] > 0);
    CHECK(thick.force_n[1] > thick.force_n[0]); // more metal, upset as far out
}
