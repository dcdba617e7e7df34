#include "distortion/bar_welds.h"
#include "distortion/strip_model.h"
#include "material/steel.h"
#include "units/units.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace holdtrue;
using namespace holdtrue::distortion;

namespace {

const double cold_k = units::celsius(20);
const double modulus = material::steel_modulus_20c_pa;

struct Bead {
    double width_m = 0.4, at_m = 0.2, thickness_m = 0.003;
    double heat_j_per_m = 150e3, travel_m_per_s = 0.006;
    double yield_pa = 275e6, prior_pa = 0, start_k = cold_k;
};

StripResult lay(const Bead& bead, YieldCurve curve = YieldCurve::effective, const HeatSettings& settings = {},
                const Grading& grading = {}) {
    const StripMetal metal(curve);
    StripModel model(plate_section(bead.width_m, bead.thickness_m, bead.yield_pa, {bead.at_m}, grading), metal,
                     settings, {true, bead.prior_pa, 0}, bead.start_k);
    TorchPass torch;
    torch.at_m = bead.at_m;
    torch.heat_j_per_m = bead.heat_j_per_m;
    torch.travel_m_per_s = bead.travel_m_per_s;
    model.weld(torch);
    model.cool();
    StripResult result = model.result(bead.at_m);
    CHECK(result.converged);
    return result;
}

double force_per_heat(const Bead& bead, YieldCurve curve = YieldCurve::effective) {
    return lay(bead, curve).tendon_force_n / bead.heat_j_per_m; // N per J/m
}

} // namespace

TEST_CASE("uniform heating grows a free section by its elongation, without stress") {
    const StripMetal metal(YieldCurve::effective);
    StripMechanics strips(plate_section(0.1, 0.004, 235e6, {0.05}), metal, {}, cold_k);
    for (const double celsius : {100.0, 300.0, 600.0, 900.0}) {
        strips.advance(std::vector<double>(strips.plastic().size(), units::celsius(celsius)));
        CHECK(strips.strain() == doctest::Approx(material::steel_elongation(units::celsius(celsius))).epsilon(1e-5));
    }
    strips.cool_evenly(units::celsius(900), cold_k);
    const StripResult result = strips.result(0.05);
    CHECK(std::abs(result.shortening) < 1e-8);
    CHECK(std::abs(result.curvature_per_m) < 1e-6);
    for (const double stress : result.residual_pa)
        CHECK(std::abs(stress) < 1e3);
}

// Restrained bar (any text on strength of materials): held at both ends and warmed by dT it carries -E alpha dT; warmed
// past twice its yield strain and cooled again it is left with its yield stress in tension.
TEST_CASE("a bar held by much colder metal is left at yield, in tension") {
    const StripMetal metal(YieldCurve::effective);
    const double yield = 235e6;
    StripSection section;
    section.strips = {{0, 0.001, 0.003, 0, yield}, {0.005, 0.002, 0.003, 0.005, yield}};
    StripMechanics strips(section, metal, {false, 0, 1.0}, cold_k);
    auto warm = [&](double celsius) { strips.advance({units::celsius(celsius), cold_k}); };
    warm(80);
    CHECK(strips.result(0.002).residual_pa[0] ==
          doctest::Approx(-modulus * material::steel_elongation(units::celsius(80))).epsilon(1e-4));
    for (double celsius = 100; celsius <= 400; celsius += 20)
        warm(celsius);
    for (double celsius = 400; celsius >= 20; celsius -= 20)
        warm(celsius);
    CHECK(strips.result(0.002).residual_pa[0] == doctest::Approx(yield).epsilon(1e-6));
    CHECK(strips.result(0.002).tendon_force_n == doctest::Approx(yield * 0.001 * 0.003).epsilon(1e-3));
}

// The same, warmed less than twice the yield strain: E alpha dT - yield is left.
TEST_CASE("a held bar warmed a little is left with what it yielded by") {
    const StripMetal metal(YieldCurve::effective);
    const double yield = 150e6;
    StripSection section;
    section.strips = {{0, 0.001, 0.003, 0, yield}, {0.005, 0.002, 0.003, 0.005, yield}};
    StripMechanics strips(section, metal, {false, 0, 1.0}, cold_k);
    for (const double celsius : {60.0, 100.0, 60.0, 20.0})
        strips.advance({units::celsius(celsius), cold_k});
    const double thermal = modulus * material::steel_elongation(units::celsius(100));
    CHECK(strips.result(0.002).residual_pa[0] == doctest::Approx(thermal - yield).epsilon(1e-3));
}

// White, Leggatt and Dwight, about 1980: 0.2 N per J/m, measured; Okerblom: 0.335 E alpha / (rho c), 0.172 to 0.179
// (all from memory). Wide plates, heated through (17 to 125 J/mm2), not heated so much that air cools the weld before
// the plate does. No factor is fitted. Band: 0.17 to 0.20, with 3 % for what it is itself known to.
TEST_CASE("the tendon constant of wide plates comes out within the published band") {
    const struct {
        double thickness_mm, least_kj_per_mm, most_kj_per_mm;
    } plates[] = {{2, 0.1, 0.15}, {3, 0.1, 0.25}, {4, 0.1, 0.4}, {5, 0.1, 0.6}, {6, 0.15, 0.6}, {8, 0.25, 1.0}};
    for (const auto& plate : plates)
        for (const double heat : {plate.least_kj_per_mm, plate.most_kj_per_mm}) {
            Bead bead;
            bead.thickness_m = plate.thickness_mm * 1e-3;
            bead.heat_j_per_m = heat * 1e6;
            bead.width_m = bead.heat_j_per_m / (bead.thickness_m * 3.6e6 * 5); // 5 K when evenly warm
            bead.at_m = bead.width_m / 2;
            const double constant = force_per_heat(bead);
            CAPTURE(plate.thickness_mm);
            CAPTURE(heat);
            CHECK(constant > 0.17 * 0.97);
            CHECK(constant < 0.20 * 1.03);
            CHECK(force_per_heat(bead, YieldCurve::proof) > constant); // the other end of the band
        }
}

TEST_CASE("no heat, no force, more heat, more force") {
    Bead bead;
    bead.heat_j_per_m = 0;
    CHECK(lay(bead).tendon_force_n == doctest::Approx(0));
    double before = 0;
    for (const double heat : {5e3, 20e3, 50e3, 100e3, 150e3, 240e3, 400e3}) {
        bead.heat_j_per_m = heat;
        const double force = lay(bead).tendon_force_n;
        CHECK(force >= before);
        before = force;
    }
    CHECK(before > 40e3);
}

// The restrained bar says: tension already there leaves less room below yield, so less is upset on heating.
TEST_CASE("tension already there lowers the force, compression raises it") {
    Bead bead;
    bead.heat_j_per_m = 240e3;
    std::vector<double> force;
    for (const double level : {-0.6, -0.3, -0.15, 0.0, 0.15, 0.3, 0.45, 0.6}) {
        bead.prior_pa = level * bead.yield_pa;
        force.push_back(lay(bead).tendon_force_n);
        if (force.size() > 1)
            CHECK(force.back() < force[force.size() - 2]);
    }
    // An earlier, separate strip model of the same plate gave 0.80, 0.62, 0.47 and 0.33 (own study, unpublished).
    CHECK(force[4] / force[3] == doctest::Approx(0.80).epsilon(0.05));
    CHECK(force[5] / force[3] == doctest::Approx(0.62).epsilon(0.05));
    CHECK(force[6] / force[3] == doctest::Approx(0.47).epsilon(0.05));
    CHECK(force[7] / force[3] == doctest::Approx(0.33).epsilon(0.05));
}

TEST_CASE("narrow bars and edge welds give less, as does a warm start") {
    Bead wide, edge;
    edge.width_m = 0.08;
    edge.at_m = 0.005;
    CHECK(force_per_heat(edge) < 0.9 * force_per_heat(wide));
    Bead hot = wide;
    hot.start_k = units::celsius(200);
    CHECK(force_per_heat(hot) < force_per_heat(wide));
    CHECK(force_per_heat(hot) > 0.6 * force_per_heat(wide));
    // The same earlier study: 0.195 and 0.155 at 150 J/mm, 0.183 and 0.136 at 240; its source is not known to the
    // millimetre, nor whether heat flowed along the weld.
    CHECK(force_per_heat(wide) == doctest::Approx(0.195).epsilon(0.05));
    CHECK(force_per_heat(edge) == doctest::Approx(0.155).epsilon(0.05));
    wide.heat_j_per_m = edge.heat_j_per_m = 240e3;
    CHECK(force_per_heat(wide) == doctest::Approx(0.183).epsilon(0.05));
    CHECK(force_per_heat(edge) == doctest::Approx(0.136).epsilon(0.05));
}

TEST_CASE("the force is that of the residual tension, and balances") {
    const Bead bead;
    const StripResult result = lay(bead);
    const StripSection section = plate_section(bead.width_m, bead.thickness_m, bead.yield_pa, {bead.at_m});
    double sum = 0, tension = 0, highest = 0;
    for (std::size_t i = 0; i < section.strips.size(); ++i) {
        const double force = result.residual_pa[i] * section.strips[i].area_m2();
        sum += force;
        tension += std::max(0.0, force);
        highest = std::max(highest, result.residual_pa[i]);
    }
    CHECK(std::abs(sum) < 1e-6 * tension);
    CHECK(highest == doctest::Approx(bead.yield_pa).epsilon(1e-6)); // weld metal is left at yield
    CHECK(tension < result.tendon_force_n);                         // the rest of the width shares it out
    CHECK(tension > 0.8 * result.tendon_force_n);
    // Shortening of a bar by a tendon: F / E A (mechanics).
    const double area = bead.width_m * bead.thickness_m;
    CHECK(result.shortening == doctest::Approx(result.tendon_force_n / (modulus * area)).epsilon(1e-6));
    CHECK(result.side_force_n[0] == doctest::Approx(result.side_force_n[1]).epsilon(1e-6));
    // Half width of a strip at yield with that force, F / (2 yield t), is the least it can be spread over.
    CHECK(result.side_strip_m[0] > 0.8 * result.tendon_force_n / (2 * bead.yield_pa * bead.thickness_m));
    CHECK(result.side_strip_m[0] < 1.6 * result.tendon_force_n / (2 * bead.yield_pa * bead.thickness_m));
}

TEST_CASE("halving strips and time steps moves the force by little") {
    for (const double at_m : {0.04, 0.0}) {
        Bead bead;
        bead.width_m = 0.08;
        bead.at_m = at_m;
        HeatSettings fine;
        fine.time_growth /= 2;
        fine.steps_per_sigma *= 2;
        const double standard = lay(bead).tendon_force_n;
        const double finer_strips = lay(bead, YieldCurve::effective, {}, {0.0004, 0.05}).tendon_force_n;
        const double finer_steps = lay(bead, YieldCurve::effective, fine).tendon_force_n;
        CHECK(finer_strips == doctest::Approx(standard).epsilon(0.01));
        CHECK(finer_steps == doctest::Approx(standard).epsilon(0.01));
    }
}

TEST_CASE("the same pass gives the same force to the last bit") {
    CHECK(lay({}).tendon_force_n == lay({}).tendon_force_n);
    CHECK(lay({}).plastic == lay({}).plastic);
}

TEST_CASE("two edge welds: the second does not bring a bar back straight") {
    const Bar bar{0.5, 0.08, 0.003, 275e6};
    const StripMetal metal(YieldCurve::effective), proof(YieldCurve::proof);
    BarWeld first, second;
    first.torch.heat_j_per_m = second.torch.heat_j_per_m = 150e3;
    second.torch.at_m = bar.width_m;
    second.wait_below_k = units::celsius(30);

    const BarOutcome one = weld_bar(bar, std::vector{first}, metal);
    const BarOutcome two = weld_bar(bar, std::vector{first, second}, metal);
    REQUIRE(one.converged);
    REQUIRE(two.converged);
    CHECK(one.bow_m > 0.6e-3);
    CHECK(two.bow_m > 0); // the first edge stays the hollow one
    CHECK(two.bow_m < 0.4 * one.bow_m);
    // The second relaxes the first, and, finding compression at its edge relieved, pulls less than the first did.
    CHECK(two.force_n[0] < 0.95 * one.force_n[0]);
    CHECK(two.force_n[1] < two.force_n[0]);
    // Camber of a bar pulled by F at arm e: F e L^2 / 8 E I (mechanics), with the strip's force as the model gives it.
    const double inertia = bar.thickness_m * std::pow(bar.width_m, 3) / 12;
    const double arm = one.bow_m * 8 * modulus * inertia / (one.force_n[0] * bar.length_m * bar.length_m);
    CHECK(arm < bar.width_m / 2);
    CHECK(arm > 0.7 * bar.width_m / 2);

    // Mirrored plan, mirrored bow.
    std::swap(first.torch.at_m, second.torch.at_m);
    const BarOutcome mirrored = weld_bar(bar, std::vector{first, second}, metal);
    CHECK(mirrored.bow_m == doctest::Approx(-two.bow_m).epsilon(1e-3));
    std::swap(first.torch.at_m, second.torch.at_m);

    // At once: waiting for the bar to cool does not lower what is left.
    second.wait_below_k = 0;
    second.interval_s = 90;
    const BarOutcome hot = weld_bar(bar, std::vector{first, second}, metal);
    REQUIRE(hot.converged);
    CHECK(hot.interpass_k[1] > units::celsius(120));
    CHECK(hot.bow_m > 0.8 * two.bow_m);
    CHECK(hot.bow_m < 1.1 * two.bow_m);

    // Which strength hot steel has matters more here than anywhere: half as much again with the proof strength.
    CHECK(weld_bar(bar, std::vector{first, second}, proof).bow_m > 1.4 * hot.bow_m);
}

// CalculiX 2.20, plane stress, a torch that is at one place only (tests/reference/RESULTS.md). What strips leave out
// makes them pull 9 % too hard at one edge; what two edges leave between them is a difference of such figures.
TEST_CASE("edge welds bow a bar as a full thermo-elastic-plastic run says") {
    const Bar bar{0.5, 0.08, 0.003, 275e6};
    const StripMetal metal(YieldCurve::effective);
    BarWeld first;
    first.torch.heat_j_per_m = 150e3;
    first.torch.sigma_m = 0.004;
    BarWeld at_once = first;
    at_once.torch.at_m = bar.width_m;
    at_once.interval_s = bar.length_m / at_once.torch.travel_m_per_s;
    CHECK(weld_bar(bar, std::vector{first}, metal).bow_m == doctest::Approx(0.693e-3).epsilon(0.12));
    BarWeld cold = at_once;
    cold.wait_below_k = units::celsius(25);
    CHECK(weld_bar(bar, std::vector{first, at_once}, metal).bow_m == doctest::Approx(0.142e-3).epsilon(0.20));
    CHECK(weld_bar(bar, std::vector{first, cold}, metal).bow_m == doctest::Approx(0.153e-3).epsilon(0.20));
}
