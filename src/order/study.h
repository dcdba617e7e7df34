// All that a search over the orders of an exercise tells: where a plan stands among random orders, which single change
// helps it most, the best order found, the simplest one that keeps the limits, and how much each forgives. Orders are
// rehearsed; the finalists are simulated in full, with longer waits where a start is hotter than rehearsed, and those
// figures decide between them. Where there are no more orders than tries, all of them are tried instead of a search.
#pragma once

#include "order/exercise_problem.h"
#include "order/robustness.h"
#include "order/standing.h"

#include <string>

namespace holdtrue::order {

struct StudyOptions {
    SearchOptions search;
    int sample = 500;  // random orders to stand among
    int changes = 500; // single changes of the plan to try
    int trials = 100;  // of every finalist, with scatter
    int finalists = 3; // of the best found that are simulated in full, beside the plan and the simplest order
};

struct Finalist {
    enum class Origin { plan, listed, found, simplest, nearest }; // nearest to limits that none keeps
    Origin origin = Origin::found;
    Candidate rehearsed;
    // In full; empty where the study was stopped before.
    std::optional<Finding> simulated;
    double cost = 0;                    // of `simulated`
    std::optional<Robustness> forgives; // empty likewise
};

// What is known of limits that no order found keeps with these cards. Shares: of the worst gauge in its limit.
//
// Only all orders tried are a proof. No bound for the others is given: the one that can be proved, by the flexibilities
// of the part tied by tacks alone and by everything, is so wide that it says nothing (tests/order/RESULTS.md), since
// ties are born in whatever shape the part has by then, and what a pass shrinks hangs on the stress and the heat before
// it.
struct OutOfReach {
    bool tried_all = false;      // proved: nearest.front() is the least there is, as rehearsed
    std::vector<double> nearest; // of every independent search for just that; smallest first
    // 5 % and 95 % of the random orders do better.
    double random_low = 0, random_high = 0;
    // Whether no more than the span of the random orders would still be too far off: then it is the cards.
    bool cards_decide() const { return nearest.front() - 1 > random_high - random_low; }
    // Of the orders drawn at random, at most this share keeps every limit (95 % sure: none of n did, so 1 - 0.05^(1/n);
    // Clopper & Pearson 1934). 1: some did.
    double most_random_within = 1;
};

struct Study {
    Candidate plan;                // rehearsed
    std::vector<Candidate> sample; // in a fixed order
    Standing standing;             // of the plan in the sample
    std::vector<SingleChange> changes;
    SearchResult found;
    std::optional<OutOfReach> out_of_reach; // where no order found keeps every limit
    std::vector<Finalist> finalists;        // cheapest first by what is simulated
    bool cut_short = false;
    double rehearsals_per_s = 0; // while searching
};

struct StudyProgress {
    enum class Stage { cards, sample, search, simplest, limits, changes, full, scatter };
    std::atomic<Stage> stage{Stage::sample};
    std::atomic<int> of{1}; // tries of this stage, this process's share
    SearchProgress now;
};
// Marks the beginning of a stage for whoever watches; null where nobody does.
SearchProgress* begin_stage(StudyProgress* progress, StudyProgress::Stage stage, int tries,
                            const parallel::Workers& workers);

// How near to its limit the worst gauge can be brought by the orders tried: half of the tries of `options` go into
// that.
SearchResult nearest_to_limits(const grading::Exercise& exercise, const OrderSpace& space,
                               const weld::Rehearsal& rehearsal, const SearchOptions& options,
                               StudyProgress* progress = nullptr, std::stop_token stop = {});

// `plan` must have been checked against part and shop; its cards weld, its passes are put in order. With more than one
// rank this is collective: all pass the same arguments, and get the same study.
Study study_orders(const grading::Exercise& exercise, const weld::Plan& plan, const weld::Rehearsal& rehearsal,
                   const weld::Options& full, const StudyOptions& options, StudyProgress* progress = nullptr,
                   std::stop_token stop = {});

} // namespace holdtrue::order
