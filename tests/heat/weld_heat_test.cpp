#include "heat/jobs.h"
#include "heat/pass_record.h"
#include "heat/weld_heat.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace holdtrue;
using namespace holdtrue::heat;
using namespace holdtrue::heat::test;
using doctest::Approx;
using material::ThermalMaterial;
using units::celsius;

namespace {

double imbalance(const WeldHeat& heat) {
    const Energy e = heat.energy();
    return std::abs(e.brought_j - e.stored_j - e.lost_to_air_j - e.lost_to_clamps_j) / e.brought_j;
}

// The constant properties that Rosenthal's numbers are for.
ThermalMaterial rosenthal_metal() {
    return ThermalMaterial::constant(
        {.conductivity_w_per_mk = 41, .density_kg_per_m3 = 7850, .specific_heat_j_per_kgk = 600});
}

} // namespace

TEST_CASE("a moving arc on thin plate gives Rosenthal's field") {
    // Rosenthal 1941: T - T0 = q / (2 pi k h) exp(-v xi / 2a) K0(v r / 2a). k 41 W/mK, rho c 4.71e6 J/m^3K, 1500 W,
    // 6 mm/s, 3 mm thick, no losses: 30 mm behind 767.8 C; 60 mm behind 551.8 C; 15 mm behind and 10 mm aside 357.4 C.
    const Job job = bead_on_plate(0.26, 0.16, 0.003, 0.001, 0.03);
    WeldHeat heat(job.part, job.mesh, no_losses, rosenthal_metal());
    // A source 1 mm wide is 0.6 % less hot than a line 30 mm behind.
    double t30 = 0, t60 = 0, aside = 0;
    const auto sample = [&](const part::Point& p) {
        return units::to_celsius(part::at(attach(*job.mesh, 0, p), heat.temperature_k()));
    };
    heat.weld({.net_power_w = 1500, .travel_m_per_s = 0.006, .sigma_m = 0.001}, [&](const Moment& m) {
        if (m.torch.x() < 0.19 || t30 > 0)
            return;
        t30 = sample(m.torch + part::Point(-0.030, 0, 0));
        t60 = sample(m.torch + part::Point(-0.060, 0, 0));
        aside = sample(m.torch + part::Point(-0.015, 0.010, 0));
    });
    CHECK(t30 == Approx(767.8).epsilon(0.01));
    CHECK(t60 == Approx(551.8).epsilon(0.01));
    CHECK(aside == Approx(357.4).epsilon(0.02));
    CHECK(imbalance(heat) < 1e-10);

    // Mirror image about the weld; where the torch stands is known to about 1e-10 m.
    const part::PanelGrid& grid = job.mesh->panels[0];
    double worst = 0;
    for (int j = 0; j < grid.nv; ++j)
        for (int i = 0; i < grid.nu; ++i)
            worst = std::max(worst, std::abs(heat.temperature_k()[grid.node(i, j)] -
                                             heat.temperature_k()[grid.node(i, grid.nv - 1 - j)]));
    CHECK(worst < 1e-3);
}

TEST_CASE("an instant line of heat spreads as Carslaw and Jaeger say") {
    // Carslaw & Jaeger 1959, 10.3(4): T = q' / (4 pi k t) exp(-r^2 / 4at); 100 J/mm, at 5 mm: 94.66 K after 1 s, 67.77
    // K after 2 s; properties as for Rosenthal.
    const double thickness_m = 0.003, element_m = 0.0005;
    const auto mesh = plate_mesh(0.06, 0.06, thickness_m, element_m);
    Conduction heat(mesh, rosenthal_metal(), insulated, 300);
    const int middle = node_at(*mesh, {0.03, 0.03, 0});
    const double volume_m3 = heat.grid().volume_m3[heat.grid().slot_of_node[middle]];
    heat.set_temperature(middle, 300 + 100e3 * thickness_m / (4.71e6 * volume_m3));
    const int aside = node_at(*mesh, {0.035, 0.03, 0});
    advance_to(heat, 1, 200);
    CHECK(heat.temperature_k(aside) - 300 == Approx(94.66).epsilon(0.005));
    advance_to(heat, 2, 100);
    CHECK(heat.temperature_k(aside) - 300 == Approx(67.77).epsilon(0.005));
}

TEST_CASE("two plates with a weld are nearly one plate") {
    // The same bead beside the seam, with the seam laid cold and with the plates not joined.
    const auto run = [](const Job& job, bool joined, int pass) {
        WeldHeat heat(job.part, job.mesh, {});
        if (joined)
            heat.weld({.pass = 0, .net_power_w = 0, .travel_m_per_s = 1, .throat_m = 0.003});
        heat.weld({.pass = pass, .net_power_w = 1500, .travel_m_per_s = 0.006});
        heat.wait(60, 0);
        CHECK(imbalance(heat) < 1e-12);
        return heat.temperature_k();
    };
    const Job two = butt(0.3, 0.24, 0.003, 0.005, 0.0);
    part::Part single = *two.part; // one panel as wide as both; the bead is where it was
    single.panels[0].profile_b = single.panels[1].profile_b;
    single.panels.pop_back();
    single.joints[0].panel_b = 0;
    const Job one = job_of(single);
    const std::vector<double> whole = run(one, false, 2), seamed = run(two, true, 2), apart = run(two, false, 2);
    double hottest = 0, worst = 0, across_apart = 0;
    for (double y = 0.005; y < 0.24; y += 0.01) {
        const int panel = y < 0.12 ? 0 : 1;
        const part::Point p{0.15, y, 0};
        const double t = part::at(attach(*one.mesh, 0, p), whole);
        hottest = std::max(hottest, t - celsius(20));
        worst = std::max(worst, std::abs(t - part::at(attach(*two.mesh, panel, p), seamed)));
        if (panel == 1)
            across_apart = std::max(across_apart, part::at(attach(*two.mesh, panel, p), apart) - celsius(20));
    }
    CHECK(hottest > 80);
    // The bead counts as 3 mm of sheet that the single plate does not have.
    CHECK(worst < 0.04 * hottest);
    CHECK(across_apart < 1e-6);
}

TEST_CASE("tacks, clamps, preheat and waits keep the balance of heat") {
    Job job = butt(0.2, 0.1, 0.003, 0.008, 0.02);
    part::Part part = *job.part;
    part.clamps = {
        {.name = "left", .panel = 0, .at = {0.02, 0.02, 0}, .contact_area_m2 = 4e-4, .contact_w_per_m2k = 2000},
        {.name = "right", .panel = 1, .at = {0.18, 0.08, 0}, .contact_area_m2 = 1e-3, .contact_w_per_m2k = 500}};
    job = job_of(part);
    WeldHeat heat(job.part, job.mesh, {});
    heat.preheat(celsius(120));
    CHECK(heat.hottest_along_k(0) == Approx(celsius(120)).epsilon(1e-5)); // as the table interpolates
    heat.weld({.pass = 1, .net_power_w = 1200, .travel_m_per_s = 0.005, .throat_m = 0.002});
    heat.wait(10, 0);
    heat.set_clamp(0, false);
    heat.weld({.pass = 0, .reversed = true, .net_power_w = 1500, .travel_m_per_s = 0.006, .throat_m = 0.003});
    CHECK(heat.hottest_k() > celsius(800));
    heat.set_clamp(0, true);
    const double before_s = heat.time_s();
    heat.wait(0, celsius(60));
    CHECK(heat.time_s() > before_s + 30);
    CHECK(heat.hottest_k() <= celsius(60));
    CHECK(heat.hottest_k() > celsius(59.8)); // does not overshoot
    heat.wait(100, celsius(500));            // both: the time is longer
    const Energy e = heat.energy();
    CHECK(e.lost_to_clamps_j > 0.02 * e.brought_j);
    CHECK(e.lost_to_air_j > 0.2 * e.brought_j);
    CHECK(imbalance(heat) < 1e-12);
    const std::vector<double> peak = heat.peak_k();
    CHECK(*std::ranges::max_element(peak) > celsius(800));
    CHECK(*std::ranges::min_element(peak) >= celsius(119.9));
}

TEST_CASE("a wait that cannot come to its end gives up") {
    const Job job = butt(0.1, 0.1, 0.003, 0.01, 0.02);
    WeldHeat heat(job.part, job.mesh, {});
    heat.wait(5, celsius(10), {}, {}, 3600);
    CHECK(heat.time_s() == Approx(3600));
}

TEST_CASE("two runs of a job give the same bits") {
    const auto run = [] {
        const Job job = butt(0.2, 0.1, 0.003, 0.008, 0.02);
        WeldHeat heat(job.part, job.mesh, {});
        heat.weld({.pass = 0, .net_power_w = 1500, .travel_m_per_s = 0.006, .throat_m = 0.003});
        heat.wait(0, celsius(80));
        std::vector<double> all = heat.temperature_k();
        all.push_back(heat.time_s());
        all.push_back(heat.energy().lost_to_air_j);
        return all;
    };
    CHECK(run() == run());
}

TEST_CASE("finer steps and elements move the temperature of a job by little") {
    // What a learner sees: the hottest place along a seam some time after it was welded.
    const auto interpass_c = [](double element_m, double element_scale) {
        Job job = butt(0.3, 0.16, 0.003, element_m, 0.02);
        job.mesh = std::make_shared<const part::Mesh>(part::build_mesh(*job.part, element_scale));
        WeldHeat heat(job.part, job.mesh, {});
        heat.weld({.pass = 0, .net_power_w = 1500, .travel_m_per_s = 0.006, .throat_m = 0.003});
        heat.wait(60, 0);
        return units::to_celsius(heat.hottest_along_k(0));
    };
    const double coarse = interpass_c(0.01, 1), fine = interpass_c(0.01, 0.5), finest = interpass_c(0.01, 0.25);
    CHECK(fine == Approx(finest).epsilon(0.005));
    CHECK(coarse == Approx(finest).epsilon(0.015));
}

TEST_CASE("the steps taken are small enough") {
    const auto run = [](double step_scale) {
        const Job job = butt(0.3, 0.16, 0.003, 0.008, 0.02);
        WeldHeat heat(job.part, job.mesh, {}, ThermalMaterial::steel(), step_scale);
        std::vector<double> temperatures;
        heat.weld({.pass = 0, .net_power_w = 1500, .travel_m_per_s = 0.006, .throat_m = 0.003});
        temperatures.push_back(heat.hottest_k());
        for (const double time_s : {5.0, 30.0, 300.0, 3000.0}) {
            heat.wait(time_s, 0);
            temperatures.push_back(heat.hottest_along_k(0));
        }
        const std::vector<double> peak = heat.peak_k();
        temperatures.push_back(*std::ranges::max_element(peak));
        return temperatures;
    };
    const std::vector<double> taken = run(1), finer = run(0.25);
    CHECK(taken[0] == Approx(finer[0]).epsilon(0.01)); // under the torch, the step's place decides
    for (std::size_t k = 1; k <= 4; ++k)
        CHECK(std::abs(taken[k] - finer[k]) < 0.5);
    CHECK(taken.back() == Approx(finer.back()).epsilon(0.01));
}

TEST_CASE("a plug heats both sheets and then conducts through its hole") {
    // Two 3 mm strips, one above the other; the plug rests in the middle of both.
    part::Panel lower = part::test::plate(0.2, 0.1, 0.003), upper = lower;
    upper.name = "upper";
    for (auto* profile : {&upper.profile_a, &upper.profile_b})
        for (part::Point& p : *profile)
            p.z() += 0.003;
    part::Part part = part::test::part_of({lower, upper}, 0.006);
    part::Joint joint;
    joint.name = "plugs";
    joint.type = part::JointType::plug;
    joint.panel_a = 1;
    joint.panel_b = 0;
    joint.path = {{0.1, 0.05, 0.0015}};
    joint.size_m = 0.010;
    part.joints = {joint};
    part.passes = {{.name = "plugs/plug1", .joint = 0, .kind = part::PassKind::plug}};
    const Job job = job_of(part);
    WeldHeat heat(job.part, job.mesh, {});
    PassRecord record(heat, 1);
    const PassFigures figures = record.weld({.net_power_w = 2000, .plug_s = 4, .share_a = 0.8});
    CHECK(figures.heat_j == Approx(8000).epsilon(1e-12));
    CHECK(figures.end_s == Approx(4));
    CHECK(figures.interpass_k == Approx(celsius(20)));
    CHECK(figures.peak_k > celsius(900));
    CHECK(figures.width_500_m > figures.width_800_m);
    CHECK(figures.width_800_m > 0.004);
    CHECK(figures.t85_s > 0.2);
    CHECK(figures.t85_s < 20);

    const auto mean_of = [&](int panel) {
        const part::PanelGrid& grid = job.mesh->panels[panel];
        double sum = 0;
        for (int node = grid.first_node; node < grid.first_node + grid.nu * grid.nv; ++node)
            sum += heat.temperature_k()[node] / (grid.nu * grid.nv);
        return sum;
    };
    const double difference_k = mean_of(1) - mean_of(0);
    CHECK(difference_k > 10);
    record.wait(120, 0);
    CHECK(mean_of(1) - mean_of(0) < 0.7 * difference_k);
    CHECK(imbalance(heat) < 1e-12);

    const std::vector<TemperatureFrame> frames = record.take_frames();
    CHECK(frames.size() > 8);
    CHECK(frames[2].arc_on);
    CHECK_FALSE(frames.back().arc_on);
    CHECK(frames.back().time_s == Approx(124));
    CHECK(frames.back().temperature_k.size() == static_cast<std::size_t>(job.mesh->node_count()));
    CHECK(std::ranges::is_sorted(frames, {}, &TemperatureFrame::time_s));
    CHECK(record.take_frames().empty());
}
