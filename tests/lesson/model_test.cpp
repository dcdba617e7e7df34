// Live models against figures from outside the project.
#include "lesson/model.h"

#include <doctest/doctest.h>

#include <cmath>
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

// Rosenthal's thin plate, 1500 W, 6 mm/s, 3 mm, T0 20 C, 41 W/(m K), 4.71 MJ/(m^3 K): half-width of the zone above
// 500 C is 8.697 mm, found by an independent numerical maximisation of the formula.
TEST_CASE("width of the zone above 500 C") {
    CHECK(value("plate_peak", "width_500", {1500, 6 * mm, 3 * mm, 10 * mm, 293.15}) / 2 ==
          Approx(8.697e-3).epsilon(0.001));
    CHECK(value("plate_peak", "peak", {1500, 6 * mm, 3 * mm, 8.697 * mm, 293.15}) == Approx(773.15).epsilon(0.0005));
}

// Adams' fast-source limit, an upper bound: dT = Q / (h rc y sqrt(2 pi e)).
TEST_CASE("the peak stays below the fast-source limit and nears it with speed") {
    const double line = 250e3 / (3 * mm * 4.71e6 * 10 * mm * std::sqrt(2 * M_PI * std::exp(1.0)));
    const double slow = value("plate_peak", "peak", {500, 2 * mm, 3 * mm, 10 * mm, 293.15}) - 293.15;
    const double fast = value("plate_peak", "peak", {3750, 15 * mm, 3 * mm, 10 * mm, 293.15}) - 293.15;
    CHECK(slow < fast);
    CHECK(fast < line);
    CHECK(fast > 0.97 * line);
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

// O. W. Blodgett's formula in inches, worked rows (arithmetic on the formula, which is from memory).
TEST_CASE("lift of a tee's flange") {
    const double inch = units::inch;
    CHECK(value("angular", "lift", {6 * inch, 0.375 * inch, 0.25 * inch}) / inch == Approx(0.5365).epsilon(0.01));
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
