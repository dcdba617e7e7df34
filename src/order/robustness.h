// How much an order forgives: the same order rehearsed many times with settings, speed, fit-up and tacks that scatter.
#pragma once

#include "grading/exercise.h"
#include "order/search.h"
#include "weld/rehearsal.h"

namespace holdtrue::order {

// Standard deviations, in parts of the value; common practice, no source.
struct ScatterSpan {
    double settings = 0.04;    // volts and wire feed of a card against what it says, for the whole job
    double travel = 0.10;      // speed of one pass against the card's: heat goes with its inverse
    double fit_up = 0.20;      // shrinkage across and angle of one pass, as its gap and fit differ
    double tack_cracks = 0.02; // chance that a tack does not hold
};

struct Robustness {
    int trials = 0, within = 0;       // trials with every gauge inside its limit
    std::vector<double> mean, spread; // gauge_count: of the deviation; standard deviation [m or rad]
    double chance() const { return trials > 0 ? static_cast<double>(within) / trials : 0; }
    double standard_error() const; // of chance()
};

// One for each order. All orders meet the same trials (common random numbers), so that they can be compared; the same
// whoever the workers are.
std::vector<Robustness> robustness(const grading::Exercise& exercise, const OrderSpace& space,
                                   const weld::Rehearsal& rehearsal, const std::vector<Order>& orders, int trials,
                                   const parallel::Workers& workers, std::uint64_t seed, const ScatterSpan& span = {},
                                   SearchProgress* progress = nullptr, std::stop_token stop = {});

} // namespace holdtrue::order
