#include "part/iso_13920.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace holdtrue::part::iso_13920;

// ISO 13920:1996, Tables 1 to 3: values as printed there, in mm and degrees.
TEST_CASE("ISO 13920 table 1, linear dimensions") {
    CHECK(*linear_m('A', 0.025) == doctest::Approx(0.001));
    CHECK(*linear_m('A', 0.730) == doctest::Approx(0.002));
    CHECK(*linear_m('B', 0.730) == doctest::Approx(0.003));
    CHECK(*linear_m('C', 1.5) == doctest::Approx(0.008));
    CHECK(*linear_m('D', 25) == doctest::Approx(0.040));
    // "Over 400 up to 1000": the bound belongs to the range below it.
    CHECK(*linear_m('B', 0.400) == doctest::Approx(0.002));
    CHECK(*linear_m('B', 0.4001) == doctest::Approx(0.003));
    CHECK(*linear_m('A', 0.002) == doctest::Approx(0.001));
    CHECK(!linear_m('A', 0.001));
    CHECK(!linear_m('E', 0.5));
    CHECK(!linear_m(' ', 0.5));
}

TEST_CASE("ISO 13920 table 2, angles by the shorter leg, its mm/m column says the same") {
    const auto degrees = [](double rad) { return rad * 180 / std::numbers::pi; };
    CHECK(degrees(*angular_rad('A', 0.3)) == doctest::Approx(20.0 / 60));
    CHECK(degrees(*angular_rad('B', 0.5)) == doctest::Approx(0.5));
    CHECK(degrees(*angular_rad('C', 2.0)) == doctest::Approx(0.5));
    CHECK(degrees(*angular_rad('D', 0.1)) == doctest::Approx(1.5));
    // B up to 400 mm: 13 mm per metre; D up to 400 mm: 26 mm per metre.
    CHECK(std::tan(*angular_rad('B', 0.4)) * 1000 == doctest::Approx(13).epsilon(0.01));
    CHECK(std::tan(*angular_rad('D', 0.4)) * 1000 == doctest::Approx(26).epsilon(0.01));
    CHECK(!angular_rad('E', 0.3));
}

TEST_CASE("ISO 13920 table 3, straightness and flatness") {
    CHECK(*straightness_m('E', 0.1) == doctest::Approx(0.0005));
    CHECK(*straightness_m('F', 0.610) == doctest::Approx(0.003));
    CHECK(*straightness_m('G', 1.0) == doctest::Approx(0.0055));
    CHECK(*straightness_m('H', 30) == doctest::Approx(0.040));
    CHECK(!straightness_m('F', 0.020));
    CHECK(!straightness_m('A', 0.5));
}
