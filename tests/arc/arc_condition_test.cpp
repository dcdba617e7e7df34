#include "arc/arc_condition.h"
#include "units/units.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::arc;
using units::mm;

namespace {

const material::GasMixture mixed_75_25{0.75, 0, 0.25, 0, 0}, argon_80_20{0.80, 0, 0.20, 0, 0},
    argon_oxygen{0.98, 0, 0, 0.02, 0}, argon{1, 0, 0, 0, 0}, co2{0, 0, 1, 0, 0};

ArcSetting steel(double diameter_mm, const material::GasMixture& gas, double current_a, double volts_v) {
    ArcSetting setting;
    setting.wire_diameter_m = diameter_mm * mm;
    setting.gas = gas;
    setting.current_a = current_a;
    setting.volts_v = volts_v;
    setting.wire_feed_m_per_s = 0.1;
    return setting;
}

} // namespace

TEST_CASE("load line of IEC 60974-1 clause 11.2") { // from memory
    const Process mag = Process::mag_135;
    CHECK(load_volts_v(mag, 60) == doctest::Approx(17.0));
    CHECK(load_volts_v(mag, 120) == doctest::Approx(20.0));
    CHECK(load_volts_v(mag, 250) == doctest::Approx(26.5));
    CHECK(load_volts_v(mag, 600) == doctest::Approx(44.0));
    CHECK(load_volts_v(mag, 700) == doctest::Approx(44.0));
    CHECK(load_volts_v(Process::tig_141, 150) == doctest::Approx(16.0));
    CHECK(load_volts_v(Process::tig_141, 900) == doctest::Approx(34.0));
}

TEST_CASE("usual volts stand 1 to 3 V below the load line at 100 to 150 A") { // common practice, no source
    for (const double current : {100., 125., 150.}) {
        const double usual = arc_state(steel(0.8, mixed_75_25, current, 18)).usual_volts_v;
        CHECK(load_volts_v(Process::mag_135, current) - usual >= 1);
        CHECK(load_volts_v(Process::mag_135, current) - usual <= 3);
        // CO2 needs about 1-3 V more than 75/25 for the same length.
        const double more = arc_state(steel(0.8, co2, current, 18)).usual_volts_v - usual;
        CHECK(more >= 1);
        CHECK(more <= 3);
    }
}

TEST_CASE("middle of each practice band is a steady short-circuit arc") {
    // 0.8 mm, 75/25: middle amps and volts by plate, 0.8 to 6 mm; common practice, no source
    for (const auto& [amps, volts] : {std::pair{42., 14.5},
                                      {52., 15.},
                                      {70., 15.75},
                                      {85., 16.5},
                                      {102., 17.5},
                                      {122., 18.25},
                                      {132., 19.},
                                      {150., 20.},
                                      {165., 21.}}) {
        CAPTURE(amps);
        const ArcState state = arc_state(steel(0.8, mixed_75_25, amps, volts));
        CHECK(state.condition == Condition::steady);
        CHECK(state.transfer == Transfer::short_circuit);
        CHECK(state.steadiness > 0.8);
    }
}

TEST_CASE("volts too low stub, too high make the arc long") {
    CHECK(arc_state(steel(0.8, mixed_75_25, 120, 15)).condition == Condition::stubbing);
    CHECK(arc_state(steel(0.8, mixed_75_25, 120, 17.1)).condition == Condition::short_side);
    CHECK(arc_state(steel(0.8, mixed_75_25, 120, 20.5)).condition == Condition::long_side);
    CHECK(arc_state(steel(0.8, mixed_75_25, 120, 23)).condition == Condition::too_long);
}

TEST_CASE("transition currents to spray") {
    // AWS Welding Handbook, from memory: 98Ar/2O2 on mild steel, 99/1 on stainless, argon on aluminium
    const auto from = [](double diameter_in, material::Metal metal, const material::GasMixture& gas) {
        return spray_current_a(diameter_in * units::inch, metal, gas).value_or(-1);
    };
    using enum material::Metal;
    CHECK(from(0.030, mild_steel, argon_oxygen) == doctest::Approx(150).epsilon(0.005));
    CHECK(from(0.035, mild_steel, argon_oxygen) == doctest::Approx(165).epsilon(0.005));
    CHECK(from(0.045, mild_steel, argon_oxygen) == doctest::Approx(220).epsilon(0.005));
    CHECK(from(0.052, mild_steel, argon_oxygen) == doctest::Approx(240).epsilon(0.005));
    CHECK(from(0.0625, mild_steel, argon_oxygen) == doctest::Approx(275).epsilon(0.005));
    CHECK(from(0.035, stainless, argon_oxygen) == doctest::Approx(170).epsilon(0.005));
    CHECK(from(0.030, aluminium, argon) == doctest::Approx(95).epsilon(0.005));
    CHECK(from(3.0 / 64, aluminium, argon) == doctest::Approx(135).epsilon(0.005));
    // Above 15-20 % CO2 there is no sharp transition; 75/25 does not give true spray.
    CHECK_FALSE(spray_current_a(1.2 * mm, mild_steel, mixed_75_25));
    CHECK_FALSE(spray_current_a(1.2 * mm, mild_steel, co2));
    CHECK(spray_current_a(1.2 * mm, mild_steel, argon_80_20));
}

TEST_CASE("transfer mode by gas, current and volts") {
    CHECK(arc_state(steel(1.2, argon_80_20, 300, 29)).transfer == Transfer::spray);
    CHECK(arc_state(steel(1.2, argon_80_20, 200, 24)).transfer == Transfer::globular);
    CHECK(arc_state(steel(1.2, mixed_75_25, 300, 29)).transfer == Transfer::globular);
    CHECK(arc_state(steel(1.2, mixed_75_25, 160, 20)).transfer == Transfer::short_circuit);
}
