#include "heat/super_step.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::heat {
namespace {

constexpr double two_stages_reach = 0.8; // explicit steps

// Even counts above 2 are left out: they do not damp the shortest wave at the edge of stability; 2 is kept well inside.
int stages_for(double ratio) {
    if (ratio <= two_stages_reach)
        return 2;
    const int s = std::max(3, static_cast<int>(std::ceil((std::sqrt(9 + 16 * ratio) - 1) / 2)));
    return s % 2 == 0 ? s + 1 : s;
}

double span(int s) { return double(s) * s + s - 2; }

double b(int j) { return j < 2 ? 1.0 / 3 : (double(j) * j + j - 2) / (2.0 * j * (j + 1)); }

} // namespace

SuperStep::SuperStep(double step_s, double explicit_step_s)
    : step_s_(step_s), explicit_step_s_(explicit_step_s), stages_(stages_for(step_s / explicit_step_s)),
      span_(span(stages_)) {}

double SuperStep::reach_s(int stages) const {
    return explicit_step_s_ * (stages == 2 ? two_stages_reach : span(stages) / 4);
}

double SuperStep::cheapest_s() const {
    double best_s = step_s_, best_stages = stages_;
    for (int fewer = 2; fewer < stages_; fewer += fewer == 2 ? 1 : 2)
        if (reach_s(fewer) * best_stages > best_s * fewer) {
            best_s = reach_s(fewer);
            best_stages = fewer;
        }
    return best_s;
}

double SuperStep::first_rate_s() const { return b(1) * 4 / span_ * step_s_; }

StageCoefficients SuperStep::coefficients(int j) const {
    StageCoefficients c;
    c.mu = (2.0 * j - 1) / j * b(j) / b(j - 1);
    c.nu = -(j - 1.0) / j * b(j) / b(j - 2);
    c.kappa = 1 - c.mu - c.nu;
    c.rate_s = c.mu * 4 / span_ * step_s_;
    c.start_rate_s = -(1 - b(j - 1)) * c.rate_s;
    return c;
}

double SuperStep::time_s(int j) const { return j == 1 ? first_rate_s() : span(j) / span_ * step_s_; }

} // namespace holdtrue::heat
