#include "heat/conduction.h"
#include "heat/plates.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace holdtrue;
using namespace holdtrue::heat;
using namespace holdtrue::heat::test;
using doctest::Approx;
using material::ConstantProperties;
using material::ThermalMaterial;
using units::celsius;

namespace {

const ThermalMaterial& plain() {
    static const ThermalMaterial material = ThermalMaterial::constant(
        {.conductivity_w_per_mk = 41, .density_kg_per_m3 = 7850, .specific_heat_j_per_kgk = 600});
    return material;
}
constexpr double plain_diffusivity = 41.0 / (7850 * 600);

// The decay of cos(pi x / L) on an insulated plate: largest error after the amplitude has fallen to 1/e.
double cosine_error(double element_m, int steps) {
    constexpr double length_m = 0.2;
    auto mesh = plate_mesh(length_m, 0.02, 0.004, element_m);
    Conduction heat(mesh, plain(), insulated, 300);
    const auto exact = [&](double x, double time_s) {
        const double wave = std::numbers::pi / length_m;
        return 400 + 100 * std::exp(-plain_diffusivity * wave * wave * time_s) * std::cos(wave * x);
    };
    for (int node = 0; node < mesh->node_count(); ++node)
        heat.set_temperature(node, exact(mesh->position_m[node].x(), 0));
    const double end_s = length_m * length_m / (std::numbers::pi * std::numbers::pi * plain_diffusivity);
    advance_to(heat, end_s, steps);
    double worst = 0;
    for (int node = 0; node < mesh->node_count(); ++node)
        worst = std::max(worst, std::abs(heat.temperature_k(node) - exact(mesh->position_m[node].x(), end_s)));
    return worst;
}

} // namespace

TEST_CASE("space error falls with the square of the element") {
    const double coarse = cosine_error(0.02, 2000), fine = cosine_error(0.01, 2000);
    CHECK(std::log2(coarse / fine) == Approx(2).epsilon(0.05));
}

TEST_CASE("time error falls with the square of the step") {
    // The limit of small steps on this mesh is taken away, so that only the time error is left.
    const double limit = cosine_error(0.01, 4096);
    const double e16 = std::abs(cosine_error(0.01, 16) - limit), e32 = std::abs(cosine_error(0.01, 32) - limit);
    CHECK(std::log2(e16 / e32) == Approx(2).epsilon(0.1));
}

TEST_CASE("a bar radiating from its end: NAFEMS T2") {
    // NAFEMS R0005 / Cameron, Casey & Simpson 1986: end A at 1000 K, sides insulated, end B radiates to 300 K with
    // emissivity 0.98, conductivity 55.563 W/mK; T_B = 927 K. With sigma = 5.67e-8: 926.97 K.
    auto mesh = plate_mesh(0.1, 0.01, 0.01, 0.01);
    const ThermalMaterial material = ThermalMaterial::constant(
        {.conductivity_w_per_mk = 55.563, .density_kg_per_m3 = 7850, .specific_heat_j_per_kgk = 460});
    Conduction heat(mesh, material, insulated, 1000);
    const int law = heat.add_law({.surroundings_k = 300, .emissivity = 0.98});
    std::vector<SurfacePatch> patches;
    for (const auto& [node, area_m2] : end_areas(*mesh, 0.1, 0.01))
        patches.push_back({node, area_m2, law, Account::air});
    heat.set_patches(patches);
    for (const auto& [node, area_m2] : end_areas(*mesh, 0, 0.01))
        heat.prescribe(node, constant_temperature(1000));
    advance_to(heat, 4000, 200);
    CHECK(heat.temperature_k(node_at(*mesh, {0.1, 0, 0})) == Approx(926.97).epsilon(1e-5));
    const HeatAccounts accounts = heat.accounts();
    CHECK(std::abs(accounts.imbalance_j()) < 1e-9 * accounts.supplied_j);
}

TEST_CASE("a bar with a swinging end: NAFEMS T3") {
    // Same source: T(0) = 0, T(0.1 m) = 100 sin(pi t / 40) C, k 35 W/mK, c 440.5 J/kgK, rho 7200 kg/m^3; at 0.08 m and
    // 32 s: 36.60 C.
    auto mesh = plate_mesh(0.1, 0.01, 0.01, 0.00125);
    const ThermalMaterial material = ThermalMaterial::constant(
        {.conductivity_w_per_mk = 35, .density_kg_per_m3 = 7200, .specific_heat_j_per_kgk = 440.5});
    Conduction heat(mesh, material, insulated, celsius(0));
    const auto swing = std::make_shared<const std::function<double(double)>>(
        [](double time_s) { return celsius(100 * std::sin(std::numbers::pi * time_s / 40)); });
    for (const auto& [node, area_m2] : end_areas(*mesh, 0, 0.01))
        heat.prescribe(node, constant_temperature(celsius(0)));
    for (const auto& [node, area_m2] : end_areas(*mesh, 0.1, 0.01))
        heat.prescribe(node, swing);
    advance_to(heat, 32, 256);
    CHECK(units::to_celsius(heat.temperature_k(node_at(*mesh, {0.08, 0, 0}))) == Approx(36.603).epsilon(5e-4));
    const HeatAccounts accounts = heat.accounts();
    CHECK(std::abs(accounts.imbalance_j()) < 1e-9 * std::abs(accounts.supplied_j));
}

TEST_CASE("a half space whose surface jumps: error function") {
    // Carslaw & Jaeger 1959, 2.4(14): T = T_s erfc(x / (2 sqrt(a t))); the far end is still cold.
    auto mesh = plate_mesh(0.2, 0.01, 0.003, 0.002);
    Conduction heat(mesh, plain(), insulated, 300);
    for (const auto& [node, area_m2] : end_areas(*mesh, 0, 0.01))
        heat.prescribe(node, constant_temperature(400));
    advance_to(heat, 30, 300);
    for (const double x : {0.01, 0.02, 0.03, 0.05}) {
        const double exact = 300 + 100 * std::erfc(x / (2 * std::sqrt(plain_diffusivity * 30)));
        CHECK(heat.temperature_k(node_at(*mesh, {x, 0, 0})) == Approx(exact).epsilon(3e-4));
    }
}

TEST_CASE("a half space under constant flux") {
    // Carslaw & Jaeger 1959, 2.9(8): T_s = 2 q sqrt(t / (pi k rho c)); 1 W/mm^2 for 10 s: 256.77 K.
    auto mesh = plate_mesh(0.15, 0.01, 0.003, 0.001);
    Conduction heat(mesh, plain(), insulated, 300);
    const int law = heat.add_law({.inflow_w_per_m2 = 1e6});
    std::vector<SurfacePatch> patches;
    for (const auto& [node, area_m2] : end_areas(*mesh, 0, 0.01))
        patches.push_back({node, area_m2, law, Account::air});
    heat.set_patches(patches);
    advance_to(heat, 10, 200);
    CHECK(heat.temperature_k(0) - 300 == Approx(256.77).epsilon(1e-3));
    CHECK(-heat.accounts().lost_j[0] == Approx(1e6 * 0.01 * 0.003 * 10).epsilon(1e-9));
}

TEST_CASE("a freezing front: Neumann's similarity solution") {
    // Carslaw & Jaeger 1959, 11.2: liquid at its melting point, surface held below it. Front at 2 lambda sqrt(a t) with
    // lambda exp(lambda^2) erf(lambda) sqrt(pi) = c (T_m - T_s) / L. The 4 K melting range stands for a sharp one.
    ConstantProperties p{.conductivity_w_per_mk = 30,
                         .density_kg_per_m3 = 7000,
                         .specific_heat_j_per_kgk = 700,
                         .latent_heat_j_per_kg = 270e3,
                         .solidus_k = 1766,
                         .liquidus_k = 1770};
    constexpr double surface_k = 1368;
    const double stefan = 700 * (1768 - surface_k) / 270e3;
    double low = 0, high = 3;
    for (int k = 0; k < 60; ++k) {
        const double lambda = 0.5 * (low + high);
        const double left = lambda * std::exp(lambda * lambda) * std::erf(lambda) * std::sqrt(std::numbers::pi);
        (left < stefan ? low : high) = lambda;
    }
    const double a = 30.0 / (7000 * 700), end_s = 20;
    const double front_m = 2 * low * std::sqrt(a * end_s);

    auto mesh = plate_mesh(0.06, 0.002, 0.003, 0.0005);
    Conduction heat(mesh, ThermalMaterial::constant(p), insulated, 1770);
    for (const auto& [node, area_m2] : end_areas(*mesh, 0, 0.002))
        heat.prescribe(node, constant_temperature(surface_k));
    advance_to(heat, end_s, 2000);
    // Where the mesh crosses the melting point.
    double crossing_m = 0;
    for (double x = 0; x < 0.05; x += 0.0005) {
        const double here = heat.temperature_k(node_at(*mesh, {x, 0, 0})),
                     next = heat.temperature_k(node_at(*mesh, {x + 0.0005, 0, 0}));
        if (here < 1767 && next >= 1767) {
            crossing_m = x + 0.0005 * (1767 - here) / (next - here);
            break;
        }
    }
    CHECK(crossing_m == Approx(front_m).epsilon(0.02));
    const double half_m = front_m / 2; // the solid behind it
    const double exact = surface_k + (1768 - surface_k) * std::erf(half_m / (2 * std::sqrt(a * end_s))) / std::erf(low);
    const double x0 = std::floor(half_m / 0.0005) * 0.0005, part = (half_m - x0) / 0.0005;
    const double found = heat.temperature_k(node_at(*mesh, {x0, 0, 0})) * (1 - part) +
                         heat.temperature_k(node_at(*mesh, {x0 + 0.0005, 0, 0})) * part;
    CHECK(found == Approx(exact).epsilon(2e-3));
}

TEST_CASE("an insulated steel part keeps its heat and evens it out through the 735 C peak") {
    // Half at 1100 C, half at 20 C: EN 1993-1-2 heat contents give the common temperature.
    auto mesh = plate_mesh(0.04, 0.02, 0.003, 0.002);
    const ThermalMaterial steel = ThermalMaterial::steel();
    Conduction heat(mesh, steel, insulated, celsius(20));
    double volume_m3 = 0;
    for (int node = 0; node < mesh->node_count(); ++node) {
        volume_m3 += heat.grid().volume_m3[heat.grid().slot_of_node[node]];
        if (mesh->position_m[node].x() > 0.0201)
            heat.set_temperature(node, celsius(1100));
    }
    CHECK(volume_m3 == Approx(0.04 * 0.02 * 0.003).epsilon(1e-12));
    const double brought = heat.accounts().brought_j;
    advance_to(heat, 600, 600);
    CHECK(std::abs(heat.accounts().imbalance_j()) < 1e-11 * brought);
    const double common_k = steel.temperature_k(brought / volume_m3);
    for (int node = 0; node < mesh->node_count(); node += 7)
        CHECK(heat.temperature_k(node) == Approx(common_k).epsilon(2e-5));
}

TEST_CASE("a thin sheet cools as a lump") {
    // tau = rho c t / (2 h): 7850 * 500 * 6 mm / (2 * 25) = 471 s; 400 to 50 C in 20 C air: tau ln(380/30) = 1196 s.
    auto mesh = plate_mesh(0.05, 0.05, 0.006, 0.01);
    const ThermalMaterial material = ThermalMaterial::constant(
        {.conductivity_w_per_mk = 45, .density_kg_per_m3 = 7850, .specific_heat_j_per_kgk = 500});
    const SurfaceLaw air{.surroundings_k = celsius(20), .convection_w_per_m2k = 25};
    Conduction heat(mesh, material, Faces{{air, air}}, celsius(400));
    const double tau_s = 7850 * 500 * 0.006 / 50;
    advance_to(heat, tau_s * std::log(380.0 / 30), 60);
    CHECK(units::to_celsius(heat.temperature_k(5)) == Approx(50).epsilon(1e-3));
    const HeatAccounts accounts = heat.accounts();
    CHECK(std::abs(accounts.imbalance_j()) < 1e-11 * std::abs(accounts.stored_j));
}

TEST_CASE("skewed and tapered cells keep a linear field at rest and conserve heat") {
    part::Panel skew = part::test::plate(0.1, 0.06, 0.003);
    skew.profile_b = {{0.03, 0.06, 0}, {0.12, 0.08, 0}};
    auto mesh = mesh_of({skew}, 0.008);
    Conduction heat(mesh, plain(), insulated, 300);
    CHECK(heat.grid().panels[0].skewed);
    // T = 300 + 1000 x + 500 y on the rim: so it must be inside.
    const auto field = [](const part::Point& p) { return 300 + 1000 * p.x() + 500 * p.y(); };
    const part::PanelGrid& grid = mesh->panels[0];
    for (int j = 0; j < grid.nv; ++j)
        for (int i = 0; i < grid.nu; ++i)
            if (i == 0 || j == 0 || i == grid.nu - 1 || j == grid.nv - 1)
                heat.prescribe(grid.node(i, j), constant_temperature(field(mesh->position_m[grid.node(i, j)])));
    advance_to(heat, 2000, 200);
    double worst = 0;
    for (int node = 0; node < mesh->node_count(); ++node)
        worst = std::max(worst, std::abs(heat.temperature_k(node) - field(mesh->position_m[node])));
    CHECK(worst < 1e-6);
}

TEST_CASE("every kernel gives the same bits") {
    const std::vector<StageKernel> kernels = available_stage_kernels();
    const SurfaceLaw air{.convection_w_per_m2k = 25, .emissivity = 0.8};
    const SurfaceTable table(ThermalMaterial::steel(), std::array{air, air});
    for (const bool skewed : {false, true}) {
        constexpr int stride = 37, count = 37 * 29, gap = 40;
        unsigned state = 12345;
        const auto random = [&] { return (state = state * 1664525u + 1013904223u) / 4294967296.0; };
        const auto column = [&](double scale) {
            std::vector<double> values(count + 2 * gap, 0.0);
            for (int k = 0; k < count; ++k)
                values[gap + k] = scale * random();
            return values;
        };
        const auto east = column(0.01), north = column(0.01), ne = column(0.001), nw = column(0.001),
                   face = column(1e-4), inverse = column(1e7), h = column(1.2e10), before = column(1.2e10),
                   start = column(1.2e10), rate = column(1e9);
        const PanelView panel{&east[gap],    &north[gap], &ne[gap], &nw[gap], &face[gap],
                              &inverse[gap], count,       stride,   skewed};
        const StageCoefficients c{1.1, -0.3, 0.2, 0.01, -0.003};
        std::vector<double> expected_first, expected_later;
        double lost_first = 0, lost_later = 0;
        for (std::size_t k = 0; k < kernels.size(); ++k) {
            CAPTURE(kernels[k].name);
            std::vector<double> theta(h.size(), 0.0), loss(kernel_scratch(stride)), r = rate, out = before;
            const double first =
                kernels[k].first(panel, table.view(), &h[gap], &theta[gap], loss.data(), &r[gap], &out[gap], 0.02);
            std::vector<double> later_out = before;
            const double later = kernels[k].later(panel, table.view(), &h[gap], &theta[gap], loss.data(),
                                                  &later_out[gap], &start[gap], &rate[gap], &later_out[gap], c);
            r.insert(r.end(), out.begin(), out.end());
            if (k == 0) {
                expected_first = r;
                expected_later = later_out;
                lost_first = first;
                lost_later = later;
            }
            CHECK(r == expected_first);
            CHECK(later_out == expected_later);
            CHECK(first == lost_first);
            CHECK(later == lost_later);
        }
    }
}

TEST_CASE("two runs give the same bits, and a mirrored field stays mirrored") {
    const auto run = [](bool mirrored) {
        auto mesh = plate_mesh(0.1, 0.06, 0.003, 0.005);
        const SurfaceLaw air{.convection_w_per_m2k = 10, .emissivity = 0.7};
        Conduction heat(mesh, ThermalMaterial::steel(), Faces{{air, air}}, celsius(20));
        heat.set_sources({{node_at(*mesh, {mirrored ? 0.08 : 0.02, 0.02, 0}), 300.0}});
        advance_to(heat, 20, 50);
        std::vector<double> temperature;
        heat.temperatures_k(temperature);
        return temperature;
    };
    const std::vector<double> once = run(false), again = run(false), mirror = run(true);
    CHECK(once == again);
    auto mesh = plate_mesh(0.1, 0.06, 0.003, 0.005);
    const part::PanelGrid& grid = mesh->panels[0];
    double worst = 0;
    for (int j = 0; j < grid.nv; ++j)
        for (int i = 0; i < grid.nu; ++i)
            worst = std::max(worst, std::abs(once[grid.node(i, j)] - mirror[grid.node(grid.nu - 1 - i, j)]));
    CHECK(worst < 1e-9);
    CHECK(*std::ranges::max_element(once) > 600);
}
