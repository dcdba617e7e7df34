#include "report/colour_scale.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace holdtrue::report;

namespace {

double linear(double c) { return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4); }
// Relative luminance, WCAG 2 / ITU-R BT.709 weights.
double luminance(const Colour& c) {
    return 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
}
double distance(const Colour& p, const Colour& q) {
    const Oklab a = to_oklab(p), b = to_oklab(q);
    return std::hypot(a.lightness - b.lightness, a.a - b.a, a.b - b.b);
}

} // namespace

TEST_CASE("Oklab of sRGB primaries agrees with its author's published values") {
    // Ottosson 2020: white 1, 0, 0; red 0.628, 0.225, 0.126; green 0.866, -0.234, 0.179; blue 0.452, -0.032, -0.312.
    const auto check = [](const Colour& colour, double lightness, double a, double b) {
        const Oklab lab = to_oklab(colour);
        CHECK(lab.lightness == doctest::Approx(lightness).epsilon(0.002));
        CHECK(std::abs(lab.a - a) < 0.001);
        CHECK(std::abs(lab.b - b) < 0.001);
        CHECK(distance(from_oklab(lab), colour) < 1e-4);
    };
    check({1, 1, 1}, 1, 0, 0);
    check({1, 0, 0}, 0.628, 0.225, 0.126);
    check({0, 1, 0}, 0.866, -0.234, 0.179);
    check({0, 0, 1}, 0.452, -0.032, -0.312);
}

TEST_CASE("the heat scale rises in luminance at even steps") {
    const ColourScale scale = heat_scale();
    double least = 1, most = 0;
    for (std::size_t k = 1; k < ColourScale::entries; ++k) {
        CHECK(luminance(scale.table()[k]) > luminance(scale.table()[k - 1]));
        const double step = distance(scale.table()[k], scale.table()[k - 1]);
        least = std::min(least, step);
        most = std::max(most, step);
    }
    CHECK(most < 1.05 * least);
}

TEST_CASE("the heat scale keeps its order for the colour blind") {
    // Simulation matrices for complete protan, deutan and tritan vision, linear sRGB:
    // Machado, Oliveira & Fernandes 2009, table for severity 1.0 (from memory).
    const double kinds[3][9] = {
        {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
        {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
        {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900}};
    const ColourScale scale = heat_scale();
    for (const auto& m : kinds) {
        double before = -1;
        for (std::size_t k = 0; k < ColourScale::entries; k += 8) {
            const Colour& c = scale.table()[k];
            const double r = linear(c.red), g = linear(c.green), b = linear(c.blue);
            const double seen = 0.2126 * (m[0] * r + m[1] * g + m[2] * b) + 0.7152 * (m[3] * r + m[4] * g + m[5] * b) +
                                0.0722 * (m[6] * r + m[7] * g + m[8] * b);
            CHECK(seen > before);
            before = seen;
        }
    }
}

TEST_CASE("the signed scale is lightest in the middle and falls evenly to both ends") {
    const ColourScale scale = signed_scale();
    for (std::size_t k = 1; k < ColourScale::entries / 2; ++k)
        CHECK(luminance(scale.table()[k]) > luminance(scale.table()[k - 1]));
    for (std::size_t k = ColourScale::entries / 2 + 1; k < ColourScale::entries; ++k)
        CHECK(luminance(scale.table()[k]) < luminance(scale.table()[k - 1]));
}

TEST_CASE("a scale answers for every share") {
    const ColourScale scale = heat_scale();
    CHECK(distance(scale.at(-1), scale.table().front()) == 0);
    CHECK(distance(scale.at(std::nan("")), scale.table().front()) == 0);
    CHECK(distance(scale.at(7), scale.table().back()) == 0);
    CHECK(heat_share(293.15, 293.15, 1773.15) == 0);
    CHECK(heat_share(1773.15, 293.15, 1773.15) == 1);
}
