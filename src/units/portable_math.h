// exp and log that give the same bits on every machine. Those of the C library may take fused multiply-adds where the
// processor has them, and then differ in the last bit; an outcome must not.
#pragma once

#include <cmath>

namespace holdtrue::units {

// exp(-x) for x >= 0, within 1e-13 of its value.
inline double exp_minus(double x) {
    if (x > 700)
        return 0;
    const double r = -x / 1024;
    double power = 1 + r * (1 + r / 2 * (1 + r / 3 * (1 + r / 4 * (1 + r / 5 * (1 + r / 6 * (1 + r / 7))))));
    for (int k = 0; k < 10; ++k)
        power *= power;
    return power;
}

// Natural logarithm of x > 0, within a few units of the last place.
inline double portable_log(double x) {
    int exponent = 0;
    double mantissa = std::frexp(x, &exponent); // [0.5, 1), exact
    if (mantissa < 0.70710678118654752) {
        mantissa *= 2;
        --exponent;
    }
    // log m = 2 atanh(s), |s| <= 0.172
    const double s = (mantissa - 1) / (mantissa + 1), s2 = s * s;
    double sum = 0;
    for (int k = 25; k >= 1; k -= 2)
        sum = sum * s2 + 1.0 / k;
    return exponent * 0.69314718055994531 + 2 * s * sum;
}

} // namespace holdtrue::units
