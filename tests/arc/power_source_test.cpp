#include "arc/calibration_sheet.h"
#include "arc/power_source.h"
#include "text/input_error.h"

#include <doctest/doctest.h>

#include <sstream>

using namespace holdtrue;
using namespace holdtrue::arc;
using doctest::Approx;

namespace {

PowerSource source() {
    PowerSource source;
    source.name = "bay 2";
    source.rated_current_a = 250;
    source.rated_duty = 0.35;
    source.volts_dial = Dial{"volts", {{1, 14}, {2, 15}, {3, 17}, {4, 24}}};
    source.feed_dial = Dial{"feed", {{10, 0.03}, {20, 0.05}, {30, 0.09}}};
    return source;
}

} // namespace

TEST_CASE("duty cycle by IEC 60974-1") { // X2 = X1 (I1/I2)^2, I100 = I1 sqrt(X1); thermal rule, from memory
    CHECK(*duty_at(source(), 250) == Approx(0.35));
    CHECK(*duty_at(source(), 200) == Approx(0.35 * 1.5625));
    CHECK(*duty_at(source(), 300) == Approx(0.35 / 1.44));
    CHECK(*duty_at(source(), 100) == 1.0);
    CHECK(*continuous_current_a(source()) == Approx(147.9).epsilon(0.001));
    CHECK(*duty_at(source(), *continuous_current_a(source())) == Approx(1.0));
    CHECK_FALSE(duty_at(PowerSource{}, 100));
}

TEST_CASE("dials interpolate between measured marks and refuse beyond them") {
    const Dial dial = *source().volts_dial;
    CHECK(value_at_mark(dial, 1) == Approx(14));
    CHECK(value_at_mark(dial, 2.5) == Approx(16));
    CHECK(value_at_mark(dial, 4) == Approx(24));
    CHECK(mark_at_value(dial, 16) == Approx(2.5));
    for (double mark = 1; mark <= 4; mark += 0.1)
        CHECK(mark_at_value(dial, value_at_mark(dial, mark)) == Approx(mark));
    CHECK_THROWS_WITH_AS(value_at_mark(dial, 4.1),
                         "mark 4.1 of dial \"volts\" was not measured; it was measured from 1 to 4; stay within, or "
                         "measure that mark and add it to the shop file",
                         text::InputError);
    CHECK_THROWS_AS(value_at_mark(dial, 0.9), text::InputError);
    CHECK_THROWS_AS(mark_at_value(dial, 24.1), text::InputError);
    CHECK_FALSE(mark_if_measured(dial, 13.9));
    CHECK_THROWS_AS(value_at_mark(Dial{"empty", {}}, 1), text::InputError);
}

TEST_CASE("the calibration sheet asks for the marks that are missing") {
    const PowerSource known = source();
    const CalibrationSheet sheet = calibration_sheet(&known);
    CHECK(sheet.feed.size() == 5);  // 10, 15, 20, 25, 30: both steps are wider than a quarter of the span
    CHECK(sheet.volts.size() == 5); // 1, 2, 3, 3.5, 4
    for (const units::System system : {units::System::metric, units::System::imperial}) {
        const std::string text = in_text(sheet, system);
        CHECK(text.find("6 seconds") != std::string::npos);
        CHECK(text.find("bay 2") != std::string::npos);
        std::istringstream lines(text);
        for (std::string line; std::getline(lines, line);)
            CHECK(line.size() <= 90); // bytes; a degree sign or the like is two
    }
    const CalibrationSheet blank = calibration_sheet(nullptr);
    CHECK(blank.feed.size() == 10);
    CHECK_FALSE(blank.feed.front().known);
}
