#include "order/study.h"

#include "order/messages.h"
#include "parallel/agree.h"

#include <algorithm>
#include <chrono>

namespace holdtrue::order {

namespace {

using Stage = StudyProgress::Stage;

// Marks the beginning of a stage for whoever watches.
SearchProgress* begin(StudyProgress* progress, Stage stage, int tries, const parallel::Workers& workers) {
    if (!progress)
        return nullptr;
    progress->now.tries = 0;
    progress->of = std::max(1, tries / workers.ranks());
    progress->stage = stage;
    return &progress->now;
}

void simulate_finalists(std::vector<Finalist>& finalists, const grading::Exercise& exercise, const Problem& problem,
                        const weld::Options& full, const parallel::Workers& workers, SearchProgress* progress,
                        std::stop_token stop) {
    const auto run = [&](int k) {
        const Order& order = finalists[static_cast<std::size_t>(k)].rehearsed.order;
        const auto outcome =
            weld::simulate(exercise.part, exercise.shop, problem.space->plan(order), full, nullptr, stop);
        std::optional<Finding> finding;
        if (outcome->status == weld::Status::finished)
            finding = finding_of(exercise, *problem.space, order, *outcome);
        if (progress)
            ++progress->tries;
        return finding;
    };
    const auto found = parallel::gather(workers, static_cast<int>(finalists.size()), run);
    for (std::size_t k = 0; k < finalists.size(); ++k)
        if (found[k]) {
            finalists[k].simulated = found[k];
            finalists[k].cost = problem.cost(*found[k]);
        }
}

} // namespace

Study study_orders(const grading::Exercise& exercise, const weld::Plan& plan, const weld::Rehearsal& rehearsal,
                   const weld::Options& full, const StudyOptions& options, StudyProgress* progress,
                   std::stop_token stop) {
    const OrderSpace space(exercise.part, plan);
    const Problem problem = exercise_problem(exercise, space, rehearsal);
    const parallel::Workers workers = options.search.workers();
    const auto rehearsed = [&](const Order& order) {
        Candidate candidate{order, problem.make_evaluator()->evaluate(order), 0};
        candidate.cost = problem.cost(candidate.finding);
        return candidate;
    };

    Study study;
    study.plan = rehearsed(space.order_of(plan));
    const Order listed = listed_order(space, study.plan.order);
    study.sample = sample(problem, options.sample, workers, options.search.seed,
                          begin(progress, Stage::sample, options.sample, workers), stop);
    study.standing = standing(study.plan.finding, study.sample);

    SearchOptions search_options = options.search;
    search_options.starts = {study.plan.order, listed};
    const auto began = std::chrono::steady_clock::now();
    study.found = search(problem, search_options, begin(progress, Stage::search, search_options.tries, workers), stop);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
    study.rehearsals_per_s = study.found.tries / std::max(1e-9, took.count());

    // Half the effort goes into what can be remembered, from orders that already have a pattern.
    SearchOptions simple_options = search_options;
    simple_options.tries = std::max(simple_options.chains, search_options.tries / 2);
    simple_options.leaders = 1;
    const Problem simplest = simplest_problem(exercise, space, rehearsal);
    const SearchResult simple =
        search(simplest, simple_options, begin(progress, Stage::simplest, simple_options.tries, workers), stop);

    std::optional<Order> nearest_order;
    const auto keeps_limits = [&](const Candidate& candidate) {
        return worst_share(*exercise.part, candidate.finding) <= 1;
    };
    if (std::ranges::none_of(study.found.front, keeps_limits) && std::ranges::none_of(simple.leaders, keeps_limits)) {
        const SearchResult nearest = search(limits_problem(exercise, space, rehearsal), simple_options,
                                            begin(progress, Stage::limits, simple_options.tries, workers), stop);
        const bool interrupted = nearest.cut_short && simple_options.seconds == 0; // says nothing of the limits
        if (!interrupted && !nearest.leaders.empty() && nearest.leaders.front().cost > 1) {
            study.nearest_shares = nearest.chain_costs;
            std::ranges::sort(study.nearest_shares);
        }
        if (!nearest.leaders.empty())
            nearest_order = nearest.leaders.front().order;
    }

    study.changes = best_changes(problem, study.plan, 3, options.changes, workers, options.search.seed,
                                 begin(progress, Stage::changes, options.changes, workers), stop);

    const auto add = [&](Finalist::Origin origin, const Candidate& candidate) {
        if (std::ranges::none_of(study.finalists,
                                 [&](const Finalist& other) { return other.rehearsed.order == candidate.order; }))
            study.finalists.push_back({origin, candidate, {}, candidate.cost, {}});
    };
    add(Finalist::Origin::plan, study.plan);
    add(Finalist::Origin::listed, rehearsed(listed));
    for (int k = 0; k < std::min(options.finalists, static_cast<int>(study.found.leaders.size())); ++k)
        add(Finalist::Origin::found, study.found.leaders[static_cast<std::size_t>(k)]);
    if (!simple.leaders.empty() && worst_share(*exercise.part, simple.leaders.front().finding) <= 1)
        add(Finalist::Origin::simplest, rehearsed(simple.leaders.front().order));
    if (nearest_order)
        add(Finalist::Origin::nearest, rehearsed(*nearest_order));

    const int finalists = static_cast<int>(study.finalists.size());
    simulate_finalists(study.finalists, exercise, problem, full, workers,
                       begin(progress, Stage::full, finalists, workers), stop);
    std::vector<Order> orders;
    for (const Finalist& finalist : study.finalists)
        orders.push_back(finalist.rehearsed.order);
    const std::vector<Robustness> forgives =
        robustness(exercise, space, rehearsal, orders, options.trials, workers, options.search.seed, {},
                   begin(progress, Stage::scatter, options.trials * finalists, workers), stop);
    for (std::size_t k = 0; k < study.finalists.size(); ++k)
        if (forgives[k].trials > 0)
            study.finalists[k].forgives = forgives[k];
    std::ranges::stable_sort(study.finalists, {}, &Finalist::cost);
    const bool stopped = stop.stop_requested();
    study.cut_short =
        study.found.cut_short || (workers.communicator ? parallel::any(*workers.communicator, stopped) : stopped);
    return study;
}

} // namespace holdtrue::order
