#include "order/study.h"

#include "order/messages.h"
#include "parallel/agree.h"

#include <algorithm>
#include <chrono>
#include <cmath>

namespace holdtrue::order {

namespace {

using Stage = StudyProgress::Stage;

// A search, or all orders where the tries reach that far.
SearchResult look(const Problem& problem, const SearchOptions& options, StudyProgress* progress, Stage stage,
                  std::stop_token stop) {
    constexpr auto everything = OrderSpace::Freedom::everything;
    const parallel::Workers workers = options.workers();
    int count = 0;
    const auto is_within = [&](const Order&) { return ++count <= options.tries; };
    if (options.seconds == 0 && problem.space->every_order(everything, is_within))
        return enumerate(problem, everything, options.leaders, options.tries, workers,
                         begin_stage(progress, stage, count, workers), stop);
    return search(problem, options, begin_stage(progress, stage, options.tries, workers), stop);
}

SearchOptions half_of(SearchOptions options) {
    options.tries = std::max(options.chains, options.tries / 2);
    options.leaders = 1;
    return options;
}

OutOfReach out_of_reach(const SearchResult& nearest, const part::Part& part, const std::vector<Candidate>& sample) {
    OutOfReach reach;
    reach.tried_all = nearest.tried_all;
    reach.nearest = nearest.chain_costs;
    std::ranges::sort(reach.nearest);
    std::vector<double> random;
    for (const Candidate& candidate : sample)
        random.push_back(worst_share(part, candidate.finding));
    std::ranges::sort(random);
    if (random.empty())
        return reach;
    const double last = static_cast<double>(random.size() - 1);
    reach.random_low = random[static_cast<std::size_t>(0.05 * last)];
    reach.random_high = random[static_cast<std::size_t>(0.95 * last)];
    if (random.front() > 1)
        reach.most_random_within = 1 - std::pow(0.05, 1.0 / static_cast<double>(random.size()));
    return reach;
}

// A finalist in full. Where a start of an order that was found is hotter than the rehearsal had it, waits are set anew
// by what the simulation says, and it is simulated again.
std::optional<Candidate> simulated(const Finalist& finalist, const grading::Exercise& exercise, const Problem& problem,
                                   const weld::Rehearsal& rehearsal, const weld::Options& full, std::stop_token stop) {
    const OrderSpace& space = *problem.space;
    constexpr int rounds = 3;
    const bool is_given = finalist.origin == Finalist::Origin::plan || finalist.origin == Finalist::Origin::listed;
    Order order = finalist.rehearsed.order;
    for (int round = 0;; ++round) {
        const weld::Plan plan = space.plan(order);
        const auto outcome = weld::simulate(exercise.part, exercise.shop, plan, weld::for_marks(full), nullptr, stop);
        if (outcome->status != weld::Status::finished)
            return std::nullopt;
        Candidate found{order, finding_of(exercise, space, order, *outcome), 0};
        found.cost = problem.cost(found.finding);
        const bool is_cool = found.finding.hottest_interpass_k <= exercise.heat.interpass_max_k;
        if (is_given || is_cool || !must_stay_cool(exercise) || round == rounds)
            return found;
        Order cooler = cooled(space, rehearsal, order, start_limits_k(exercise, *rehearsal.weld(plan), *outcome));
        if (cooler == order)
            return found;
        order = std::move(cooler);
    }
}

void simulate_finalists(std::vector<Finalist>& finalists, const grading::Exercise& exercise, const Problem& problem,
                        const weld::Rehearsal& rehearsal, const weld::Options& full, const parallel::Workers& workers,
                        SearchProgress* progress, std::stop_token stop) {
    const auto run = [&](int k) {
        auto found = simulated(finalists[static_cast<std::size_t>(k)], exercise, problem, rehearsal, full, stop);
        if (progress)
            ++progress->tries;
        return found;
    };
    const auto found = parallel::gather(workers, static_cast<int>(finalists.size()), run);
    const auto evaluator = problem.make_evaluator();
    for (std::size_t k = 0; k < finalists.size(); ++k) {
        if (!found[k])
            continue;
        Finalist& finalist = finalists[k];
        const Order& order = found[k]->order;
        if (order != finalist.rehearsed.order) {
            finalist.rehearsed = {order, evaluator->evaluate(order), 0};
            finalist.rehearsed.cost = problem.cost(finalist.rehearsed.finding);
        }
        finalist.simulated = found[k]->finding;
        finalist.cost = found[k]->cost;
    }
}

} // namespace

SearchProgress* begin_stage(StudyProgress* progress, Stage stage, int tries, const parallel::Workers& workers) {
    if (!progress)
        return nullptr;
    progress->now.tries = 0;
    progress->of = std::max(1, tries / workers.ranks());
    progress->stage = stage;
    return &progress->now;
}

SearchResult nearest_to_limits(const grading::Exercise& exercise, const OrderSpace& space,
                               const weld::Rehearsal& rehearsal, const SearchOptions& options, StudyProgress* progress,
                               std::stop_token stop) {
    return look(limits_problem(exercise, space, rehearsal), half_of(options), progress, Stage::limits, stop);
}

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
    study.plan = rehearsed(order_as_rehearsed(space, rehearsal, plan));
    const Order listed = listed_order(space, study.plan.order);
    study.sample = sample(problem, options.sample, workers, options.search.seed,
                          begin_stage(progress, Stage::sample, options.sample, workers), stop);
    study.standing = standing(study.plan.finding, study.sample);

    SearchOptions search_options = options.search;
    search_options.starts = {study.plan.order, listed};
    const auto began = std::chrono::steady_clock::now();
    study.found = look(problem, search_options, progress, Stage::search, stop);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
    study.rehearsals_per_s = study.found.tries / std::max(1e-9, took.count());

    // Half the effort goes into what can be remembered, from orders that already have a pattern.
    const SearchResult simple =
        look(simplest_problem(exercise, space, rehearsal), half_of(search_options), progress, Stage::simplest, stop);

    std::optional<Order> nearest_order;
    const auto keeps_limits = [&](const Candidate& candidate) {
        return worst_share(*exercise.part, candidate.finding) <= 1;
    };
    if (std::ranges::none_of(study.found.front, keeps_limits) && std::ranges::none_of(simple.leaders, keeps_limits)) {
        const SearchResult nearest = nearest_to_limits(exercise, space, rehearsal, search_options, progress, stop);
        const bool interrupted = nearest.cut_short && search_options.seconds == 0; // says nothing of the limits
        if (!interrupted && !nearest.leaders.empty() && nearest.leaders.front().cost > 1)
            study.out_of_reach = out_of_reach(nearest, *exercise.part, study.sample);
        if (!nearest.leaders.empty())
            nearest_order = nearest.leaders.front().order;
    }

    study.changes = best_changes(problem, study.plan, 3, options.changes, workers, options.search.seed,
                                 begin_stage(progress, Stage::changes, options.changes, workers), stop);

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
    simulate_finalists(study.finalists, exercise, problem, rehearsal, full, workers,
                       begin_stage(progress, Stage::full, finalists, workers), stop);
    std::vector<Order> orders;
    for (const Finalist& finalist : study.finalists)
        orders.push_back(finalist.rehearsed.order);
    const std::vector<Robustness> forgives =
        robustness(exercise, space, rehearsal, orders, options.trials, workers, options.search.seed, {},
                   begin_stage(progress, Stage::scatter, options.trials * finalists, workers), stop);
    for (std::size_t k = 0; k < study.finalists.size(); ++k)
        if (forgives[k].trials > 0)
            study.finalists[k].forgives = forgives[k];
    std::ranges::stable_sort(study.finalists, {}, &Finalist::cost);
    const bool stopped = parallel::any(workers, stop.stop_requested());
    study.cut_short = study.found.cut_short || stopped;
    return study;
}

} // namespace holdtrue::order
