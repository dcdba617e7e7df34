#include "arc/cooling_time.h"
#include "arc/preheat.h"
#include "units/units.h"

#include <doctest/doctest.h>

using namespace holdtrue;
using namespace holdtrue::arc;
using doctest::Approx;
using material::Analysis;
using units::mm;

namespace {

double tp_c(double cet, double d_mm, double hydrogen, double q_kj_per_mm) {
    return units::to_celsius(preheat_method_b_k(cet, d_mm * mm, hydrogen, q_kj_per_mm * 1e6).value_or(0));
}

} // namespace

TEST_CASE("carbon equivalents by hand") { // formulas: EN 1011-2:2001 C.2, C.3; Ito and Bessyo; from memory
    const Analysis s235{.c = 0.12, .si = 0.2, .mn = 0.6};
    CHECK(carbon_equivalent_iiw(s235) == Approx(0.2200).epsilon(1e-3));
    CHECK(carbon_equivalent_cet(s235) == Approx(0.1800).epsilon(1e-3));
    CHECK(carbon_equivalent_pcm(s235) == Approx(0.1567).epsilon(1e-3));
    const Analysis a36 = material::find_steel_grade("A36")->typical;
    CHECK(carbon_equivalent_iiw(a36) == Approx(0.3740).epsilon(1e-3));
    CHECK(carbon_equivalent_cet(a36) == Approx(0.2895).epsilon(2e-3));
    CHECK(carbon_equivalent_pcm(a36) == Approx(0.2513).epsilon(2e-3));
    CHECK(material::find_steel_grade("S999") == nullptr);
}

TEST_CASE("method B by hand") { // EN 1011-2 C.3, from memory: 697 CET + 160 tanh(d/35) + 62 HD^0.35 + ...
    CHECK(tp_c(0.30, 20, 5, 1.0) == Approx(56.5).epsilon(0.002));
    CHECK(tp_c(0.32, 30, 5, 1.5) == Approx(92.5).epsilon(0.002));
    CHECK(tp_c(0.36, 40, 10, 1.0) == Approx(179.3).epsilon(0.002));
    CHECK(tp_c(0.2895, 16, 5, 1.0) == Approx(34.5).epsilon(0.005));
    CHECK(tp_c(0.3162, 16, 5, 1.0) == Approx(54.5).epsilon(0.005));
    // Outside its range it asks nothing: too thin, too lean, too little heat.
    CHECK_FALSE(preheat_method_b_k(0.20, 6 * mm, 5, 0.5e6));
    CHECK_FALSE(preheat_method_b_k(0.18, 16 * mm, 5, 1.0e6));
    CHECK_FALSE(preheat_method_b_k(0.30, 16 * mm, 5, 0.3e6));
    CHECK(preheat_method_b_k(0.30, 16 * mm, 5, 0.3e6, true) == preheat_method_b_k(0.30, 16 * mm, 5, 0.5e6));
}

TEST_CASE("AWS D1.1 table by thickness") { // 2020 table 5.8, from memory
    for (const auto& [t_mm, low_h_c, other_c] : {std::tuple{3., 0., 0.},
                                                 {20., 0., 0.},
                                                 {21., 10., 65.},
                                                 {38., 10., 65.},
                                                 {39., 65., 110.},
                                                 {65., 65., 110.},
                                                 {66., 110., 150.}}) {
        CHECK(units::to_celsius(preheat_aws_k(t_mm * mm)) == Approx(low_h_c));
        CHECK(units::to_celsius(preheat_aws_k(t_mm * mm, false)) == Approx(other_c));
    }
}

TEST_CASE("the stricter of the two governs, and says so") {
    const Analysis a36 = material::find_steel_grade("A36")->typical;
    const Preheat thick = preheat(a36, Process::mag_135, 16 * mm, 1.0e6);
    CHECK(units::to_celsius(thick.needed_k) == Approx(34.5).epsilon(0.01));
    CHECK(thick.governs == "EN 1011-2 method B");
    const Preheat thin = preheat(a36, Process::mag_135, 8 * mm, 1.0e6);
    CHECK(thin.governs.starts_with("AWS D1.1"));
    CHECK_FALSE(thin.method_b_k);
    CHECK(thin.method_b_note == "it begins at 10 mm");
    const Preheat heavy = preheat({.c = 0.12, .si = 0.2, .mn = 0.6}, Process::mag_135, 50 * mm, 1.0e6);
    CHECK(units::to_celsius(heavy.needed_k) == Approx(65));
}

TEST_CASE("t8/5 rows") { // EN 1011-2:2001 annex D, from memory; worked from the formulas
    struct Row {
        double q, t0_c, d_mm, f2, f3, three_s, two_s, transition_mm;
        bool two;
    };
    for (const Row& row :
         {Row{1.0, 20, 10, 1, 1, 5.29, 11.36, 14.66, true}, Row{1.0, 20, 20, 1, 1, 5.29, 2.84, 14.66, false},
          Row{1.5, 150, 20, 1, 1, 11.77, 11.92, 20.13, true}, Row{0.8, 20, 5, 1, 1, 4.23, 29.09, 13.11, true},
          Row{0.35, 20, 3, 1, 1, 1.85, 15.47, 8.67, true}, Row{1.0, 20, 12, 0.9, 0.9, 4.76, 7.10, 14.66, true}}) {
        CAPTURE(row.q);
        CAPTURE(row.d_mm);
        const CoolingTime time = cooling_time(row.q * 1e6, units::celsius(row.t0_c), row.d_mm * mm, {row.f2, row.f3});
        CHECK(time.three_dimensional_s == Approx(row.three_s).epsilon(0.003));
        CHECK(time.two_dimensional_s == Approx(row.two_s).epsilon(0.003));
        CHECK(time.transition_m == Approx(row.transition_mm * mm).epsilon(0.002));
        CHECK(time.two_dimensional_governs == row.two);
    }
    CHECK(joint_factors(part::JointType::butt).two_dimensional == 0.9);
    CHECK(joint_factors(part::JointType::lap).three_dimensional == 0.67);
}
