#include "heat/jobs.h"
#include "heat/pass_record.h"
#include "heat/weld_section.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace holdtrue;
using namespace holdtrue::heat;
using namespace holdtrue::heat::test;
using doctest::Approx;
using material::ThermalMaterial;
using units::celsius;

TEST_CASE("section widths lie between Rosenthal's and those of the fast source") {
    // 1500 W at 6 mm/s on 3 mm: half-width above 500 C, Rosenthal 8.697 mm, line source of the fast arc
    // Q / (h rho c dT sqrt(2 pi e)) = 8.919 mm. The section leaves out conduction along the weld, so it is the latter.
    const ThermalMaterial metal = ThermalMaterial::constant(
        {.conductivity_w_per_mk = 41, .density_kg_per_m3 = 7850, .specific_heat_j_per_kgk = 600});
    const Job job = bead_on_plate(0.3, 0.24, 0.003, 0.005, 0.04);
    const WeldHeat heat(job.part, job.mesh, no_losses, metal);
    const SectionFigures f = weld_section(heat, {.net_power_w = 1500, .travel_m_per_s = 0.006, .sigma_m = 0.001});
    CHECK(f.width_500_m / 2 == Approx(8.919e-3).epsilon(0.01));
    CHECK(f.width_500_m / 2 > 8.697e-3);
    // 2-D cooling time of the same source: Q^2 / (4 pi k rho c h^2) (1/480^2 - 1/780^2) = 7.75 s.
    const double q = 250e3;
    CHECK(
        f.t85_s ==
        Approx(q * q / (4 * 3.14159265 * 41 * 4.71e6 * 9e-6) * (1 / (480.0 * 480) - 1 / (780.0 * 780))).epsilon(0.02));
}

TEST_CASE("t8/5 on thin steel lies in a band about EN 1011-2 Annex D") {
    // Two-dimensional heat flow, shape factor 1 (from memory): (4300 - 4.3 T0) 1e5 Q^2 / d^2 (1/(500-T0)^2 - ...).
    // The formula has constant properties and no losses, so that it is a band of 25 %, not a target.
    struct Row {
        double q_kj_per_mm, d_mm, t85_s;
    };
    for (const Row& row : {Row{0.25, 3, 7.89}, Row{0.35, 3, 15.47}, Row{0.8, 5, 29.09}, Row{1.0, 10, 11.36}}) {
        CAPTURE(row.q_kj_per_mm);
        const Job job = bead_on_plate(0.3, 0.24, row.d_mm * 1e-3, 0.008, 0.02);
        const WeldHeat heat(job.part, job.mesh, {});
        const SectionFigures f = weld_section(
            heat, {.net_power_w = row.q_kj_per_mm * 1e6 * 0.006, .travel_m_per_s = 0.006, .sigma_m = 0.003});
        CHECK(f.t85_s == Approx(row.t85_s).epsilon(0.25));
    }
}

TEST_CASE("the section agrees with the field of a mesh fine enough to show it") {
    const Arc arc{.net_power_w = 1500, .travel_m_per_s = 0.006, .sigma_m = 0.003};
    const auto compare = [&](double start_c) {
        const Job job = bead_on_plate(0.16, 0.12, 0.003, 0.001, 0.02);
        WeldHeat heat(job.part, job.mesh, {});
        if (start_c > 20)
            heat.preheat(celsius(start_c));
        const SectionFigures f = weld_section(heat, arc);
        const int middle = node_at(*job.mesh, {0.08, 0.06, 0});
        double last = 0, at_800 = 0, at_500 = 0, last_s = 0;
        const auto note = [&](const Moment& m) {
            const double t = units::to_celsius(heat.temperature_k()[middle]);
            for (auto [level, time] : {std::pair{800.0, &at_800}, std::pair{500.0, &at_500}})
                if (last >= level && t < level)
                    *time = last_s + (m.time_s - last_s) * (last - level) / (last - t);
            last = t;
            last_s = m.time_s;
        };
        heat.weld(arc, note);
        heat.wait(30, 0, note);
        const std::vector<double> peak = heat.peak_k();
        double width_500 = 0, width_800 = 0;
        const part::PanelGrid& grid = job.mesh->panels[0];
        for (int j = 0; j < grid.nv; ++j) {
            const double t = units::to_celsius(peak[grid.node(80, j)]);
            width_500 += t > 500 ? 0.001 : 0;
            width_800 += t > 800 ? 0.001 : 0;
        }
        CHECK(f.t85_s == Approx(at_500 - at_800).epsilon(0.05));
        CHECK(std::abs(f.width_500_m - width_500) < 0.0015);
        CHECK(std::abs(f.width_800_m - width_800) < 0.0015);
    };
    compare(20);
    compare(200);
}
