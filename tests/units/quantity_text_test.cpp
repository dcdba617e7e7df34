#include "units/amount_text.h"
#include "units/apart_text.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace holdtrue::units;

TEST_CASE("quantities read as a shop writes them") {
    CHECK(length_text(1.234e-3) == "1.23 mm");
    CHECK(length_text(3e-3) == "3 mm");
    CHECK(length_text(2.499e-3) == "2.5 mm");
    CHECK(length_text(-1e-7) == "0 mm");
    CHECK(length_text(0.3) == "300 mm");
    CHECK(reading_text(3e-3) == "3.00 mm");
    CHECK(length_text(1.27e-3, System::imperial) == "0.050 in");
    CHECK(temperature_text(celsius(180)) == "180 °C");
    CHECK(temperature_text(celsius(100), System::imperial) == "212 °F");
    CHECK(difference_text(50, System::imperial) == "90 °F");
    CHECK(angle_text(0.1 * 0.017453292519943295) == "0.10°");
    CHECK(travel_text(0.005) == "300 mm/min");
    CHECK(travel_text(0.0254 / 6, System::imperial) == "10.0 in/min");
    // The 6-second feed check: 25 in in 6 s is 250 in/min (exact arithmetic).
    CHECK(wire_feed_text(25 * inch / 6, System::imperial) == "250 in/min");
    CHECK(heat_input_text(240e3) == "0.24 kJ/mm");
    CHECK(heat_input_text(1e6, System::imperial) == "25.4 kJ/in");
}

TEST_CASE("what a weld takes, in either system") { // 1 lb = 0.45359237 kg, 1 ft = 0.3048 m (exact)
    CHECK(mass_text(0.0842, System::metric) == "84.2 g");
    CHECK(mass_text(0.45359237, System::imperial) == "1 lb");
    CHECK(mass_rate_text(1.65 / 3600, System::metric) == "1.65 kg/h");
    CHECK(mass_rate_text(1.65 / 3600, System::imperial) == "3.64 lb/h");
    CHECK(gas_text(0.0333, System::metric) == "33.3 L");
    CHECK(gas_text(0.3048 * 0.3048 * 0.3048, System::imperial) == "1 ft³");
}

TEST_CASE("two values that differ do not read alike") {
    CHECK(apart_texts(4.83, 4.8).one == "4.83");
    CHECK(apart_texts(4.83, 4.8).other == "4.8");
    CHECK(apart_texts(4.003, 4).one == "4.003");
    CHECK(apart_texts(4.003, 4).other == "4.000");
    CHECK(apart_texts(179.96, 180).one == "179.96");
    CHECK(apart_texts(24.46, 24.48).one == "24.46");
    CHECK(apart_texts(2, 2).one == "2");
    const ApartTexts speeds = apart_texts(0.17996 / 60, 0.18 / 60, holdtrue::units::travel, System::metric);
    CHECK(speeds.one == "179.96 mm/min");
    CHECK(speeds.other == "180.00 mm/min");
}

TEST_CASE("times and signs") {
    CHECK(duration_text(45) == "45 s");
    CHECK(duration_text(725) == "12 min 05 s");
    CHECK(duration_text(3780) == "1 h 03 min");
    CHECK(clock_text(59.6) == "1:00");
    CHECK(clock_text(3800) == "1:03:20");
    CHECK(number_text(-0.001, 2) == "0.00");
    CHECK(signed_text(0.001, 2) == "0.00");
    CHECK(signed_text(1.5, 1) == "+1.5");
    CHECK(signed_text(-1.5, 1) == "-1.5");
    CHECK(number_text(std::nan(""), 2) == "-");
}
