// All that a search over the orders of an exercise tells: where a plan stands among random orders, which single change
// helps it most, the best order found, the simplest one that keeps the limits, and how much each forgives. Orders are
// rehearsed; the finalists are simulated in full, and those figures decide between them.
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

struct Study {
    Candidate plan;                // rehearsed
    std::vector<Candidate> sample; // in a fixed order
    Standing standing;             // of the plan in the sample
    std::vector<SingleChange> changes;
    SearchResult found;
    // Where no order found keeps every limit: how near searches for just that came, one after another independently;
    // the worst gauge's share of its limit, smallest first. Otherwise empty.
    std::vector<double> nearest_shares;
    std::vector<Finalist> finalists; // cheapest first by what is simulated
    bool cut_short = false;
    double rehearsals_per_s = 0; // while searching
};

struct StudyProgress {
    enum class Stage { sample, search, simplest, limits, changes, full, scatter };
    std::atomic<Stage> stage{Stage::sample};
    std::atomic<int> of{1}; // tries of this stage, this process's share
    SearchProgress now;
};

// `plan` must have been checked against part and shop; its cards weld, its passes are put in order. With more than one
// rank this is collective: all pass the same arguments, and get the same study.
Study study_orders(const grading::Exercise& exercise, const weld::Plan& plan, const weld::Rehearsal& rehearsal,
                   const weld::Options& full, const StudyOptions& options, StudyProgress* progress = nullptr,
                   std::stop_token stop = {});

} // namespace holdtrue::order
