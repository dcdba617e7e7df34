#include "command_line/program.h"
#include "scratch_folder.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>

using namespace holdtrue::test;
using doctest::Approx;

namespace {

namespace fs = std::filesystem;

fs::path case_file(const std::string& name) {
    return fs::path(HOLDTRUE_SOURCE_DIR) / "tests/cases" / (name + ".case.toml");
}

nlohmann::json solved(const fs::path& file) {
    const ScratchFolder scratch("solve");
    const fs::path out = scratch.path / "out.json";
    const Ran ran = run_program("solve '" + file.string() + "' --json '" + out.string() + "'");
    CAPTURE(ran.output);
    REQUIRE(ran.exit_code == 0);
    return nlohmann::json::parse(content_of(out));
}

double probe_k(const nlohmann::json& result) { return result["probes"][0]["temperature_k"].back(); }

void check_balance(const nlohmann::json& result) {
    double most = 0;
    for (const auto& entry : result["energy_j"])
        most = std::max(most, std::abs(entry.get<double>()));
    CHECK(std::abs(result["energy_j"]["imbalance"].get<double>()) < 1e-10 * most);
}

struct Wrong {
    const char* find;
    const char* replace;
    const char* at; // whose line the complaint names
    const char* says;
};

} // namespace

TEST_CASE("solve meets the NAFEMS thermal benchmarks") {
    // Targets as published: T2 927.0 K, T3 36.60 C, T4 18.3 C; T2 and T3 recomputed to one more figure.
    const nlohmann::json t2 = solved(case_file("nafems_t2"));
    CHECK(probe_k(t2) == Approx(926.97).epsilon(2e-5));
    check_balance(t2);
    const nlohmann::json t3 = solved(case_file("nafems_t3"));
    CHECK(probe_k(t3) - 273.15 == Approx(36.603).epsilon(5e-4));
    CHECK(t3["time_s"] == nlohmann::json({8.0, 16.0, 24.0, 32.0}));
    check_balance(t3);
    const nlohmann::json t4 = solved(case_file("nafems_t4"));
    CHECK(probe_k(t4) - 273.15 == Approx(18.3).epsilon(0.003));
    check_balance(t4);
}

TEST_CASE("solve cools a sheet as a lump, and heats a steel strip as the Kirchhoff transform says") {
    CHECK(probe_k(solved(case_file("cooling_sheet"))) == Approx(323.15).epsilon(1e-4));
    const nlohmann::json strip = solved(case_file("heated_steel_plate"));
    CHECK(probe_k(strip) - 273.15 == Approx(338.80).epsilon(1e-4));
    CHECK(strip["energy_j"]["sources"].get<double>() == Approx(5e6 * 0.1 * 0.01 * 0.005 * 3600));
    check_balance(strip);
    CHECK(strip["temperature_k"].size() == strip["node_m"].size());
}

TEST_CASE("solve meets a fin at rest and a melting front") { // solutions in the case files
    const nlohmann::json fin = solved(case_file("cooling_fin"));
    CHECK(probe_k(fin) - 273.15 == Approx(32.322).epsilon(3e-4));
    CHECK(fin["probes"][1]["temperature_k"].back().get<double>() - 273.15 == Approx(22.950).epsilon(3e-4));
    CHECK(probe_k(solved(case_file("melting_front"))) - 273.15 == Approx(246.59).epsilon(4e-3));
}

TEST_CASE("solve says what is wrong with a case by file and line, and writes nothing") {
    const Wrong wrongs[] = {
        {"kind = \"conduction\"", "kind = \"conducton\"", "conducton", "did you mean \"conduction\"?"},
        {"conductivity_w_per_mk = 55.563", "conductivity = 55.563", "conductivity = 55", "has no unit"},
        {"conductivity_w_per_mk = 55.563", "conductivity_w_per_mk = -1", "conductivity_w_per_mk = -1", "give 0.001"},
        {"emissivity = 0.98", "emissivity = 1.98", "emissivity = 1.98", "give 0 to 1"},
        {"surroundings_k = 300", "", "[[edge]]\npanel = \"bar\"\nside = \"end\"", "need surroundings"},
        {"side = \"end\"", "side = \"top\"", "side = \"top\"", "write a, b, start or end"},
        {"panel = \"bar\"\nside = \"end\"", "panel = \"baar\"\nside = \"end\"", "baar", "did you mean \"bar\"?"},
        {"temperature_k = 1000", "temperature_k = 1000\nflux_w_per_m2 = 5", "[[edge]]", "keep either"},
        {"temperature_k = 1000", "history = { time_s = [0, 5], temperature_k = [300] }", "history",
         "2 times and 1 temperatures"},
        {"temperature_k = 1000", "history = { time_s = [5, 0], temperature_k = [300, 310] }", "history",
         "do not increase"},
        {"temperature_k = 1000", "history = { time_s = [0, 5], temperature_k = [300, 310] }", "[time]",
         "no steady state"},
        {"temperature_k = 1000", "", "[[edge]]", "the edge has no condition"},
        {"at_mm = [100, 5, 0]", "at_mm = [100, 50, 0]", "at_mm = [100, 50, 0]", "away from panel bar"},
        {"steady = true", "end_s = -5", "end_s = -5", "give"},
        {"steady = true", "end_s = 5\nstep_s = 1e-7", "step_s", "a million steps"},
        {"steady = true", "steady = true\nprint_s = [1]", "print_s", "unknown key print_s"},
        {"thickness_mm = 10", "thickness_mm = nan", "thickness_mm = nan", "thickness_mm is nan"},
        {"element_mm = 10", "element_mm = 0.06", "[[panel]]", "cells"},
        {"initial_k = 300", "initial_k = 1e99", "initial_k", "give 100 to 3300 K"},
    };
    const ScratchFolder scratch("solve");
    const std::string text = content_of(case_file("nafems_t2"));
    const fs::path file = scratch.path / "wrong.case.toml", out = scratch.path / "out.json";
    for (const Wrong& wrong : wrongs) {
        CAPTURE(wrong.replace);
        std::string changed = text;
        const std::size_t at = changed.find(wrong.find);
        REQUIRE(at != std::string::npos);
        changed.replace(at, std::string(wrong.find).size(), wrong.replace);
        write(file, changed);
        const std::size_t place = changed.find(wrong.at);
        REQUIRE(place != std::string::npos);
        const auto line = 1 + std::count(changed.begin(), changed.begin() + static_cast<std::ptrdiff_t>(place), '\n');
        const Ran ran = run_program("solve '" + file.string() + "' --json '" + out.string() + "'");
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.find("wrong.case.toml:" + std::to_string(line) + ": ") != std::string::npos);
        CHECK(ran.output.find(wrong.says) != std::string::npos);
        CHECK_FALSE(fs::exists(out));
    }
    const Ran missing = run_program("solve /nowhere.case.toml");
    CHECK(missing.exit_code == 2);
    CHECK(missing.output.find("cannot be read") != std::string::npos);
    const Ran no_place = run_program("solve '" + case_file("nafems_t2").string() + "' --json /nowhere/out.json");
    CHECK(no_place.exit_code == 2);
}

TEST_CASE("solve refuses a case that would run for days") {
    const ScratchFolder scratch("solve");
    std::string text = content_of(case_file("nafems_t3"));
    text.replace(text.find("element_mm = 1"), 14, "element_mm = 0.1");
    text.replace(text.find("end_s = 32"), 10, "end_s = 1e9");
    const fs::path file = scratch.path / "days.case.toml";
    write(file, text);
    const Ran ran = run_program("solve '" + file.string() + "'");
    CAPTURE(ran.output);
    CHECK(ran.exit_code == 2);
    CHECK(ran.output.find("stages on") != std::string::npos);
}

namespace {

double shell_value(const nlohmann::json& result, std::size_t probe, std::size_t value) {
    return result["probes"][probe]["values"][value];
}
// Approx adds its tolerance in absolute terms too, which would pass any small number.
bool within(double value, double reference, double relative) {
    return std::abs(value - reference) <= relative * std::abs(reference);
}

} // namespace

TEST_CASE("solve meets published shell problems") {
    // Values and sources stand in the case files.
    const nlohmann::json roof = solved(case_file("scordelis_lo"));
    CHECK(within(shell_value(roof, 0, 2), -0.3024, 0.005));
    // The diaphragm carries the quarter's own weight: 90 Pa on 25 m of arc of 40 degrees and radius 25 m.
    CHECK(within(shell_value(roof, 1, 2), 90 * 25 * 25 * 40 * 3.14159265358979 / 180, 2e-3));
    CHECK(within(shell_value(solved(case_file("pinched_cylinder")), 0, 2), -1.8248e-4, 0.015));
    CHECK(within(shell_value(solved(case_file("pinched_hemisphere")), 0, 0), 0.094, 0.02));
    CHECK(within(shell_value(solved(case_file("macneal_harder_beam")), 0, 1), 0.1081, 0.01));
    CHECK(within(shell_value(solved(case_file("free_strip_gradient")), 0, 2), -0.025, 1e-6));
    CHECK(within(shell_value(solved(case_file("cook_membrane")), 0, 1), 23.96, 0.005));
    CHECK(within(shell_value(solved(case_file("raasch_hook")), 0, 2), 4.9352, 0.01));
    CHECK(within(shell_value(solved(case_file("nafems_le1")), 0, 7), 92.7e6, 0.02)); // middle of the sheet, yy
    const nlohmann::json z_section = solved(case_file("nafems_le5"));
    CHECK(within(shell_value(z_section, 0, 6), -108e6, 0.03));  // middle of the sheet, xx
    CHECK(within(shell_value(z_section, 1, 3), 1.2e6, 1e-6));   // the wall takes the whole torque,
    CHECK(std::abs(shell_value(z_section, 1, 1)) < 1e-6 * 6e5); // and no force
    // Round the tube, and nothing across or along it: the normal at the crown is z, between two flat elements.
    const nlohmann::json tube = solved(case_file("pressed_cylinder"));
    CHECK(within(shell_value(tube, 0, 2), 0.238e-3, 0.02));
    CHECK(within(shell_value(tube, 1, 6), 100e6, 0.01));
    for (const std::size_t other : {7, 8, 9, 10, 11})
        CHECK(std::abs(shell_value(tube, 1, other)) < 1e-3 * 100e6);
    const nlohmann::json bent = solved(case_file("cantilever_moment"));
    CHECK(within(shell_value(bent, 0, 2), 0.108, 1e-6));
    CHECK(within(shell_value(bent, 0, 4), -0.036, 1e-6));
    CHECK(within(shell_value(bent, 1, 0), 3000, 1e-6));   // bottom
    CHECK(within(shell_value(bent, 1, 12), -3000, 1e-6)); // top
    CHECK(within(shell_value(bent, 2, 4), 1, 1e-6));
    CHECK(std::abs(shell_value(bent, 2, 2)) < 1e-9);
    const nlohmann::json plate = solved(case_file("clamped_plate_gradient"));
    CHECK(within(shell_value(plate, 0, 0), 180e6, 1e-6));   // bottom
    CHECK(within(shell_value(plate, 0, 12), -180e6, 1e-6)); // top
    CHECK(std::abs(shell_value(plate, 1, 2)) < 1e-12);
}

TEST_CASE("solve says what is wrong with a shell case by file and line, and writes nothing") {
    const Wrong wrongs[] = {
        {"young_pa = 1e7", "young = 1e7", "young = 1e7", "has no unit"},
        {"poisson = 0.3", "poisson = 0.7", "poisson = 0.7", "give"},
        {"elements = [6, 1]", "elements = [6.5, 1]", "elements =", "whole numbers"},
        {"elements = [6, 1]", "elements = [9999, 9999]", "elements =", "100000 elements"},
        {"profile_b_mm = [[0, 200, 0], [6000, 200, 0]]", "profile_b_mm = [[6000, 200, 0], [0, 200, 0]]", "[[panel]]",
         "folded over"},
        {"profile_b_mm = [[0, 200, 0], [6000, 200, 0]]", "profile_b_mm = [[0, 200, 0], [9, 0, 0], [6000, 200, 0]]",
         "profile_b", "different numbers"},
        {"holds = [\"x\", \"y\", \"z\", \"rx\", \"ry\", \"rz\"]", "holds = [\"x\", \"up\"]", "holds", "no direction"},
        {"force_n_per_m = [0, 5, 0]", "force_n_per_m = [0, 5]", "force_n_per_m", "3"},
        {"support = \"root\"", "support = \"rot\"", "support = \"rot\"", "no support"},
        {"kind = \"reaction\"", "kind = \"force\"", "kind = \"force\"", "force"},
        {"at_mm = [6000, 0, 0]", "at_mm = [6000, 60, 0]", "at_mm = [6000, 60, 0]", "nearest lies at [6000, 0, 0] mm"},
        {"kind = \"displacement\"\nat_mm = [6000, 0, 0]", "kind = \"stress\"\nat_mm = [6000, 0, 900]", "at_mm",
         "not lie on the panels"},
        {"force_n_per_m = [0, 5, 0]", "", "[[edge_load]]", "the load is empty"},
        {"[[edge_load]]", "[[thermal]]\nchange_k = 5\n\n[[edge_load]]", "[[thermal]]", "add expansion_per_k"},
        {"side = \"end\"", "side = \"tip\"", "side = \"tip\"", "write a, b, start or end"},
        {"holds = [\"x\", \"y\", \"z\", \"rx\", \"ry\", \"rz\"]", "holds = []", "holds", "holds nothing"},
    };
    const ScratchFolder scratch("solve");
    const std::string text = content_of(case_file("macneal_harder_beam"));
    const fs::path file = scratch.path / "wrong.case.toml", out = scratch.path / "out.json";
    for (const Wrong& wrong : wrongs) {
        CAPTURE(wrong.replace);
        std::string changed = text;
        const std::size_t at = changed.find(wrong.find);
        REQUIRE(at != std::string::npos);
        changed.replace(at, std::string(wrong.find).size(), wrong.replace);
        write(file, changed);
        const auto line = 1 + std::count(changed.begin(),
                                         changed.begin() + static_cast<std::ptrdiff_t>(changed.find(wrong.at)), '\n');
        const Ran ran = run_program("solve '" + file.string() + "' --json '" + out.string() + "'");
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.find("wrong.case.toml:" + std::to_string(line) + ": ") != std::string::npos);
        CHECK(ran.output.find(wrong.says) != std::string::npos);
        CHECK_FALSE(fs::exists(out));
    }
    // What a shell can do as a rigid body under what is left of its support.
    const std::pair<const char*, const char*> loose[] = {
        {"[\"x\"]", "free to "},
        {"[\"x\", \"y\", \"z\", \"rx\", \"rz\"]", "free to turn about y"}, // a hinge along y
        {"[\"x\", \"z\", \"rx\", \"ry\", \"rz\"]", "free to shift along y"},
    };
    const std::string all = "[\"x\", \"y\", \"z\", \"rx\", \"ry\", \"rz\"]";
    for (const auto& [holds, says] : loose) {
        CAPTURE(holds);
        std::string changed = text;
        changed.replace(changed.find(all), all.size(), holds);
        write(file, changed);
        const Ran ran = run_program("solve '" + file.string() + "'");
        CAPTURE(ran.output);
        CHECK(ran.exit_code == 2);
        CHECK(ran.output.find(says) != std::string::npos);
    }
}
