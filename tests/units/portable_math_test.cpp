#include "units/portable_math.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace holdtrue::units;
using doctest::Approx;

TEST_CASE("the portable exp and log agree with the C library's") {
    double worst_exp = 0, worst_log = 0;
    for (double x = 0; x < 40; x += 0.0137)
        worst_exp = std::max(worst_exp, std::abs(exp_minus(x) / std::exp(-x) - 1));
    for (double x = 1e-3; x < 1e4; x *= 1.0173)
        worst_log = std::max(worst_log, std::abs(portable_log(x) - std::log(x)));
    CHECK(worst_exp < 1e-12);
    CHECK(worst_log < 1e-14);
    CHECK(exp_minus(0) == 1);
    CHECK(exp_minus(1000) == 0);
    CHECK(portable_log(1) == 0);
}
