// Live models against figures from outside the project.
#include "lesson/model.h"

#include <doctest/doctest.h>

#include <cmath>
#include <tuple>
#include <utility>
#include <vector>

using namespace holdtrue;
using namespace holdtrue::lesson;
using doctest::Approx;
using units::mm;

namespace {

double value(const char* model_name, const char* output, std::vector<double> inputs) {
    const Model* model = find_model(model_name);
    REQUIRE(model != nullptr);
    REQUIRE(inputs.size() == model->inputs.size());
    REQUIRE(model->output(output) >= 0);
    return model->evaluate(inputs)[model->output(output)];
}

} // namespace

TEST_CASE("shades of 29 CFR 1910.133(a)(5)") {
    for (const auto& [current_a, shade] : {std::pair{59.0, 7.0}, {60.0, 10.0}, {160.0, 10.0}, {250.0, 10.0}})
        CHECK(value("arc_rays", "minimum_shade", {current_a, 1}) == shade);
}

TEST_CASE("hours allowed in noise: 29 CFR 1910.95 table G-16 (from memory)") {
    for (const auto& [level, hours] : {std::pair{90.0, 8.0}, {92.0, 6.06}, {95.0, 4.0}, {100.0, 2.0}, {115.0, 0.25}})
        CHECK(value("noise_time", "allowed", {level}) / 3600 == Approx(hours).epsilon(0.01));
}

TEST_CASE("35 feet are 10.7 m") { CHECK(value("spark_reach", "rule", {3, 6}) == Approx(10.7).epsilon(0.01)); }

// Textbook: on level ground the farthest throw is v^2/g.
TEST_CASE("a spark on level ground") { CHECK(value("spark_reach", "reach", {0, 6}) == Approx(36 / 9.80665)); }

// Rosenthal's thin plate: the two outputs come from two searches, along the plate and across it, and must agree.
TEST_CASE("the edge of the zone above 500 C peaks at 500 C") {
    const double width_m = value("plate_peak", "width_500", {1500, 6 * mm, 3 * mm, 10 * mm, 293.15});
    CHECK(value("plate_peak", "peak", {1500, 6 * mm, 3 * mm, width_m / 2, 293.15}) == Approx(773.15).epsilon(0.0005));
}

// Limit of a fast source, an upper bound: dT = Q / (h rho c y sqrt(2 pi e)); rho c is 7850 * 690 (mean of EN 1993-1-2).
TEST_CASE("the peak stays below the fast-source limit and nears it with speed") {
    const double line = 250e3 / (3 * mm * 7850 * 690 * 10 * mm * std::sqrt(2 * M_PI * std::exp(1.0)));
    const double slow = value("plate_peak", "peak", {500, 2 * mm, 3 * mm, 10 * mm, 293.15}) - 293.15;
    const double fast = value("plate_peak", "peak", {3750, 15 * mm, 3 * mm, 10 * mm, 293.15}) - 293.15;
    CHECK(slow < fast);
    CHECK(fast < line);
    CHECK(fast > 0.97 * line);
}

// EN 1011-2 annex D with the factors of a tee (F2 0.45 to 0.67): 1 kJ/mm, 10 mm, 20 C: bead on plate 11.36 s.
TEST_CASE("cooling time of a fillet lies in the band of the standard's factors") {
    const double time_s = value("cooling_time", "time", {1e6, 10 * mm, 293.15});
    CHECK(time_s > 0.45 * 11.36);
    CHECK(time_s < 0.67 * 11.36);
}

// EN 1011-2 method B, row worked from the formula: CET 0.32, 30 mm, 5 ml/100 g, 1.5 kJ/mm: 92.5 C.
TEST_CASE("preheat and carbon equivalents") {
    CHECK(value("preheat", "temperature", {0.32, 30 * mm, 5, 1.5e6}) - 273.15 == Approx(92.5).epsilon(0.002));
    CHECK(value("carbon_equivalent", "ce", {0.18, 0.9, 0.1, 0.02, 0.1, 0.2}) == Approx(0.374).epsilon(0.001));
    CHECK(value("carbon_equivalent", "cet", {0.12, 0.6, 0, 0, 0, 0}) == Approx(0.18));
}

// IEC 60974-1, thermal rule: 35 % at 170 A is 60 % at 130 A and 101 A without a pause (worked by hand).
TEST_CASE("duty cycle") {
    CHECK(value("duty_cycle", "duty", {170, 0.35, 130}) == Approx(0.5985).epsilon(0.001));
    CHECK(value("duty_cycle", "continuous", {170, 0.35, 130}) == Approx(100.6).epsilon(0.001));
    CHECK(value("duty_cycle", "duty", {170, 0.35, 90}) == 1);
}

// AISC 360 J2.3b, table J2.4, clause J2.2b; EN 1090-2 7.5.7; ISO 5817; ISO 13920 (rows as printed or worked by hand).
TEST_CASE("limits of plugs, fillets, tacks and tolerances") {
    for (const auto& [t, least, most] : {std::tuple{1.5, 10.0, 13.0}, {3.0, 12.0, 15.0}, {6.0, 14.0, 17.0}}) {
        CHECK(value("plug_limits", "least", {t * mm, 12 * mm}) == Approx(least * mm));
        CHECK(value("plug_limits", "most", {t * mm, 12 * mm}) == Approx(most * mm));
    }
    for (const auto& [t, least] : {std::pair{6.0, 3.0}, {6.1, 5.0}, {13.0, 5.0}, {13.5, 6.0}, {19.0, 6.0}, {20.0, 8.0}})
        CHECK(value("fillet_limits", "least", {t * mm}) == Approx(least * mm));
    CHECK(value("fillet_limits", "most", {5 * mm}) == Approx(5 * mm));
    CHECK(value("fillet_limits", "most", {10 * mm}) == Approx(8 * mm));
    for (const auto& [t, least] : {std::pair{3.0, 12.0}, {6.0, 24.0}, {10.0, 40.0}, {16.0, 50.0}})
        CHECK(value("tack_limits", "least", {t * mm}) == Approx(least * mm));
    CHECK(value("iso_5817_fillet", "legs_b", {5 * mm, 10 * mm}) == Approx(2.25 * mm));
    CHECK(value("iso_5817_fillet", "legs_d", {3 * mm, 10 * mm}) == Approx(2.6 * mm));
    CHECK(value("iso_5817_fillet", "convexity_c", {3 * mm, 10 * mm}) == Approx(2.5 * mm));
    CHECK(value("iso_13920", "class_b", {650 * mm}) == Approx(3 * mm));
    CHECK(value("iso_13920", "class_f", {1600 * mm}) == Approx(4.5 * mm));
}

// Beam theory by hand: tube 80 x 80 x 3, A = 924 mm^2, I = 914 kmm^4 (handbook of sections with square corners);
// F = 0.2 * 300 = 60 kN, bow = 60e3 * 40 * 1000^2 / (8 * 210e3 * 914e3) = 1.563 mm.
TEST_CASE("bow and shortening of a tube") {
    const std::vector<double> in{300e3, 0, 1.0, 80 * mm, 80 * mm, 3 * mm};
    CHECK(value("bow", "force", in) == Approx(60e3));
    CHECK(value("bow", "bow", in) == Approx(1.563e-3).epsilon(0.002));
    CHECK(value("bow", "shortening", in) == Approx(60e3 * 1 / (210e9 * 924e-6)).epsilon(1e-6));
    CHECK(value("bow", "bow", {300e3, 300e3, 1.0, 80 * mm, 80 * mm, 3 * mm}) == Approx(0).epsilon(1e-12));
}

TEST_CASE("equal pulls leave no bow, and turning after every run keeps the part straighter on the way") {
    const auto in = [](double ratio, double between) {
        return std::vector<double>{ratio, 6, between, 300e3, 1.0, 80 * mm, 80 * mm, 3 * mm};
    };
    CHECK(value("balance", "left", in(1, 6)) == Approx(0));
    CHECK(value("balance", "widest", in(1, 6)) == Approx(value("balance", "one_side", in(1, 6))));
    CHECK(value("balance", "widest", in(1, 1)) == Approx(value("balance", "one_side", in(1, 6)) / 6));
}

// O. W. Blodgett's formula in inches, delta = 0.02 W D^1.3 / T^2: rows worked from the formula, which is from memory.
TEST_CASE("lift of a tee's flange") {
    const double inch = units::inch;
    CHECK(value("angular", "lift", {6 * inch, 0.25 * inch, 0.375 * inch}) / inch == Approx(0.1407).epsilon(0.001));
    CHECK(value("angular", "lift", {10 * inch, 0.25 * inch, 0.5 * inch}) / inch == Approx(0.1320).epsilon(0.001));
}

// Spraragen and Ettinger, and Blodgett: 50 mm^2 in 10 mm with a gap of 2 mm: 1.10 and 0.50 mm.
TEST_CASE("shrinkage across a butt") {
    CHECK(value("across", "high", {50e-6, 10 * mm, 2 * mm}) == Approx(1.10e-3));
    CHECK(value("across", "low", {50e-6, 10 * mm, 2 * mm}) == Approx(0.50e-3));
}

// Lumped cooling: 6 mm, 25 W/(m^2 K), 400 to 50 C at 20 C ambient: time constant 471 s, 1196 s.
TEST_CASE("cooling evenly in still air") {
    const std::vector<double> in{6 * mm, 673.15, 323.15, 25};
    CHECK(value("cool_down", "time_constant", in) == Approx(471).epsilon(0.001));
    CHECK(value("cool_down", "time", in) == Approx(1196).epsilon(0.001));
}

TEST_CASE("geometry of fillets, diagonals and backstep runs") {
    CHECK(value("fillet_metal", "metal", {6 * mm, 8 * mm}) == Approx(1.778).epsilon(0.001));
    CHECK(value("fillet_metal", "metal", {4 * mm, 6 * mm}) == Approx(2.25));
    CHECK(value("backstep", "start", {0.6, 0.1, 2}) == Approx(0.2));
    CHECK(value("backstep", "stop", {0.6, 0.1, 2}) == Approx(0.1));
    // A 3-4-5 frame pushed 6 mm: diagonals hypot(806, 600) and hypot(794, 600) mm.
    const double difference_m = (std::hypot(806, 600) - std::hypot(794, 600)) * mm;
    CHECK(value("diagonals", "push", {0.8, 0.6, difference_m}) == Approx(6e-3).epsilon(0.001));
}

TEST_CASE("every model is finite over its whole range") {
    for (const Model& model : models()) {
        CAPTURE(std::string(model.name));
        CHECK(!model.source.empty());
        CHECK(find_model(model.name) == &model);
        for (const Input& input : model.inputs) {
            CHECK(input.low < input.high);
            CHECK(input.usual >= input.low);
            CHECK(input.usual <= input.high);
            CHECK(static_cast<std::size_t>(input.unit) < input.dimension->units.size());
        }
        if (!model.evaluate)
            continue;
        // All corners of the box of inputs, and its middle.
        for (unsigned corner = 0; corner < (1u << model.inputs.size()); ++corner) {
            std::vector<double> inputs;
            for (std::size_t i = 0; i < model.inputs.size(); ++i)
                inputs.push_back(corner >> i & 1 ? model.inputs[i].high : model.inputs[i].low);
            const auto outputs = model.evaluate(inputs);
            REQUIRE(outputs.size() == model.outputs.size());
            for (std::size_t k = 0; k < outputs.size(); ++k)
                CHECK_MESSAGE(std::isfinite(outputs[k]), std::string(model.outputs[k].key));
        }
    }
}

TEST_CASE("numbers as people read them") {
    CHECK(number_text(6.4) == "6.4");
    CHECK(number_text(1066.3) == "1066");
    CHECK(number_text(0.0625) == "0.0625");
    CHECK(number_text(0) == "0");
    CHECK(number_text(1e-7) == "1e-07");
    CHECK(number_text(-12.34) == "-12.3");
    CHECK(with_unit(0.5, percentage, 0) == "50%");
    CHECK(with_unit(0.003, units::length, 0) == "3 mm");
}
