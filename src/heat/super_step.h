// A Runge-Kutta-Legendre super-time-step of second order (Meyer, Balsara & Aslam 2014, J. Comput. Phys. 257, eqs
// 16-21): s stages reach (s^2 + s - 2)/4 explicit steps, so that the work grows with the square root of the step.
//   Y_1 = Y_0 + first_rate_s R(Y_0)
//   Y_j = mu Y_{j-1} + nu Y_{j-2} + kappa Y_0 + rate_s R(Y_{j-1}) + start_rate_s R(Y_0)
#pragma once

#include "heat/stage_kernel.h"

namespace holdtrue::heat {

class SuperStep {
public:
    SuperStep(double step_s, double explicit_step_s); // both > 0

    int stages() const { return stages_; } // 2, or odd
    // The longest step that takes no more stages than this one.
    double longest_s() const { return reach_s(stages_); }
    // The step, no longer than this one, that takes the fewest stages for its length.
    double cheapest_s() const;
    double first_rate_s() const;
    StageCoefficients coefficients(int stage) const; // 2 to stages()
    double time_s(int stage) const;                  // from the start of the step, at which Y_stage stands

private:
    double reach_s(int stages) const;

    double step_s_, explicit_step_s_;
    int stages_;
    double span_; // s^2 + s - 2
};

} // namespace holdtrue::heat
