// Where an order stands among random ones, and which one change of it helps most.
#pragma once

#include "order/search.h"

namespace holdtrue::order {

// Shares of the sample, 0 to 1, that do worse than the order: for each gauge by its deviation, and in points lost.
struct Standing {
    std::vector<double> gauge_beats; // gauge_count
    double points_beat = 0;
};
Standing standing(const Finding& own, const std::vector<Candidate>& sample);
// "38 %"; never rounded to none or to all of them.
std::string share_text(double share);

struct SingleChange {
    enum class Kind { swap, move, reverse, wait, no_wait, free_clamps };
    Kind kind = Kind::swap;
    int from = 0, to = 0; // places in the order; wait: `to` is an index into waits_s()
    Candidate after;
    double gain = 0; // cost before less cost after
};

// Tries up to `tries` single changes that can be carried out, drawn evenly from all there are, and returns those that
// help, best first, at most `count`, one for each kind and place. The same whoever the workers are.
std::vector<SingleChange> best_changes(const Problem& problem, const Candidate& own, int count, int tries,
                                       const parallel::Workers& workers, std::uint64_t seed,
                                       SearchProgress* progress = nullptr, std::stop_token stop = {});

} // namespace holdtrue::order
