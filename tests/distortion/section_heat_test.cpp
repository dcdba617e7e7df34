#include "distortion/section_heat.h"
#include "material/steel.h"
#include "units/units.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace holdtrue;
using namespace holdtrue::distortion;

namespace {

const double cold_k = units::celsius(20);

StripSection wide_plate(double thickness_m, const Grading& grading = {}) {
    return plate_section(0.4, thickness_m, 275e6, {0.2}, grading);
}

// Hottest that each strip gets while a torch passes.
std::vector<double> peaks(const PassField& field) {
    std::vector<double> peak = field.temperature_k.front();
    for (const std::vector<double>& frame : field.temperature_k)
        for (std::size_t i = 0; i < peak.size(); ++i)
            peak[i] = std::max(peak[i], frame[i]);
    return peak;
}

} // namespace

TEST_CASE("strips fill the section, finest at the weld lines, and mirror") {
    const StripSection bar = plate_section(0.08, 0.003, 235e6, {0, 0.08});
    double area = 0;
    for (const Strip& strip : bar.strips)
        area += strip.area_m2();
    CHECK(area == doctest::Approx(0.08 * 0.003).epsilon(1e-12));
    CHECK(bar.strips.front().width_m < 0.001);
    CHECK(bar.strips.back().width_m == doctest::Approx(bar.strips.front().width_m).epsilon(1e-6));
    CHECK(bar.strips[bar.strips.size() / 2].width_m > 0.003);
}

TEST_CASE("the flange of a tee counts twice and bends nothing") {
    const StripSection tee = joint_section({0.005, 0.06, 235e6, false}, {0.006, 0.05, 235e6, true}, true);
    CHECK(tee.strips.front().lever_m < -0.055);
    CHECK(tee.strips.back().lever_m == 0);
    CHECK(tee.strips.back().thickness_m == 0.012);
    double area = 0;
    for (const Strip& strip : tee.strips)
        area += strip.area_m2();
    CHECK(area == doctest::Approx(0.06 * 0.005 + 2 * 0.05 * 0.006));
}

// D. Rosenthal, thin plate without losses (Carslaw and Jaeger, Conduction of Heat in Solids, 10.7; from memory):
//   T - T0 = P / (2 pi k t) exp(-v x / 2a) K0(v r / 2a), x counted forward from the torch.
// A little heat, so that the properties of steel hold still; away from the torch, so that its spread does not count.
TEST_CASE("a passing torch follows the moving line source of Rosenthal") {
    const double thickness = 0.003, heat = 3000, travel = 0.006;
    HeatSettings settings;
    settings.convection_w_per_m2k = 0;
    settings.emissivity = 0;
    settings.time_growth = 0.01;
    settings.steps_per_sigma = 12;
    const StripMetal metal(YieldCurve::effective);
    const StripSection section = wide_plate(thickness, {0.0005, 0.05});
    SectionHeat model(section, metal, settings, cold_k);
    TorchPass torch;
    torch.at_m = 0.2;
    torch.heat_j_per_m = heat;
    torch.travel_m_per_s = travel;
    torch.sigma_m = 0.001;
    const PassField field = model.pass(torch);

    const double mean_k = cold_k + 10;
    const double k = material::steel_conductivity_w_per_mk(mean_k);
    const double a = k / (material::steel_density_kg_per_m3 * material::steel_specific_heat_j_per_kgk(mean_k));
    double time = -time_before_torch_s(torch, settings), largest = 0;
    int compared = 0;
    for (std::size_t step = 0; step < field.dt_s.size(); ++step) {
        time += field.dt_s[step];
        for (std::size_t i = 0; i < section.strips.size(); ++i) {
            const double x = -travel * time, y = section.strips[i].at_m - 0.2, r = std::hypot(x, y);
            if (r < 0.006 || r > 0.060)
                continue;
            const double exact = heat * travel / (2 * std::numbers::pi * k * thickness) *
                                 std::exp(-travel * x / (2 * a)) * std::cyl_bessel_k(0.0, travel * r / (2 * a));
            largest = std::max(largest, std::abs(field.temperature_k[step][i] - cold_k - exact));
            ++compared;
        }
    }
    CHECK(compared > 1000);
    // Hottest compared rise is about 22 K; first order in time leaves 2 % of it, at the steep front.
    CHECK(largest < 0.5);
}

TEST_CASE("every joule that a torch brings is stored or lost") {
    const StripMetal metal(YieldCurve::effective);
    for (const double travel : {0.002, 0.006, 0.012}) {
        const StripSection section = wide_plate(0.003);
        SectionHeat heat(section, metal, {}, cold_k);
        TorchPass torch;
        torch.at_m = 0.2;
        torch.heat_j_per_m = 240e3;
        torch.travel_m_per_s = travel;
        heat.pass(torch);
        CHECK(heat.brought_j_per_m() == 240e3);
        // What little flows out ahead of the window is not counted.
        CHECK(heat.stored_j_per_m() + heat.lost_j_per_m() == doctest::Approx(240e3).epsilon(1e-4));
        for (int k = 0; k < 50; ++k)
            heat.cool(1e6);
        CHECK(heat.stored_j_per_m() + heat.lost_j_per_m() == doctest::Approx(240e3).epsilon(1e-4));
        CHECK(heat.lost_j_per_m() > 0);
        CHECK(heat.converged());
    }
}

TEST_CASE("axial conduction takes the more from the peak the slower the torch") {
    const StripMetal metal(YieldCurve::effective);
    auto peak_at = [&](double travel, bool axial) {
        HeatSettings settings;
        settings.axial_conduction = axial;
        const StripSection section = wide_plate(0.003);
        SectionHeat heat(section, metal, settings, cold_k);
        TorchPass torch;
        torch.at_m = 0.2;
        torch.heat_j_per_m = 150e3;
        torch.travel_m_per_s = travel;
        return std::ranges::max(peaks(heat.pass(torch)));
    };
    const double slow = peak_at(0.003, true) / peak_at(0.003, false);
    const double fast = peak_at(0.012, true) / peak_at(0.012, false);
    CHECK(slow < fast);
    CHECK(fast < 1);
    CHECK(fast > 0.98);
}

TEST_CASE("shares: what falls on a member is what was asked") {
    const StripMetal metal(YieldCurve::effective);
    HeatSettings settings;
    settings.axial_conduction = false;
    const StripSection section = joint_section({0.003, 0.05}, {0.008, 0.05}, false);
    SectionHeat heat(section, metal, settings, cold_k);
    TorchPass torch;
    torch.heat_j_per_m = 100e3;
    torch.share_below = 0.3;
    const PassField field = heat.pass(torch);
    double below = 0, all = 0;
    for (std::size_t k = 0; k < field.dt_s.size(); ++k)
        for (std::size_t i = 0; i < section.strips.size(); ++i) {
            all += field.dt_s[k] * field.source_w_per_m[k][i];
            below += section.strips[i].at_m < 0 ? field.dt_s[k] * field.source_w_per_m[k][i] : 0;
        }
    CHECK(all == doctest::Approx(100e3).epsilon(1e-12));
    CHECK(below == doctest::Approx(30e3).epsilon(1e-12));
}
