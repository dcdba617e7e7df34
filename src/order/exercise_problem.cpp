#include "order/exercise_problem.h"

#include "grading/grade.h"
#include "order/phrases.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::order {

namespace {

class RehearsalEvaluator final : public Evaluator {
public:
    RehearsalEvaluator(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal)
        : exercise_(exercise), space_(space), rehearsal_(rehearsal) {}

    Finding evaluate(const Order& order) override {
        return finding_of(exercise_, space_, order, *rehearsal_.weld(space_.plan(order), nullptr, &memory_));
    }

private:
    const grading::Exercise& exercise_;
    const OrderSpace& space_;
    const weld::Rehearsal& rehearsal_;
    weld::RehearsalMemory memory_;
};

// A turn or a change of setting that neither time nor gauges ask for is one too many: each weighs as much as this share
// of a limit.
constexpr double handling = 0.02;

// What no mark makes up for, by the exercise's must_pass: a start above the limit, by the share of what the limit
// allows above the workshop's air. Gauges weigh as much in any case, settings are the cards' business, and tacks come
// first.
double missed_share(const grading::Exercise& exercise, const Finding& finding) {
    if (!must_stay_cool(exercise))
        return 0;
    const double air_k = exercise.part->ambient_k, limit_k = exercise.heat.interpass_max_k;
    return std::max(0.0, (finding.hottest_interpass_k - air_k) / std::max(1.0, limit_k - air_k) - 1);
}

// Of the rise that the limit allows: the full simulation may find a little more than the rehearsal.
constexpr double cooled_to = 0.97;

double cost_of(const grading::Exercise& exercise, const Finding& finding) {
    const double worst = worst_share(*exercise.part, finding);
    return finding.points_lost + worst + 20 * (std::max(0.0, worst - 1) + missed_share(exercise, finding)) +
           handling * (finding.turns + finding.setup_changes);
}

} // namespace

double worst_share(const part::Part& part, const Finding& finding) {
    double worst = 0;
    for (std::size_t g = 0; g < part.gauges.size(); ++g)
        worst = std::max(worst, std::abs(finding.deviation[g]) / part.gauges[g].tolerance);
    return worst;
}

Finding finding_of(const grading::Exercise& exercise, const OrderSpace& space, const Order& order,
                   const weld::Outcome& outcome) {
    Finding finding;
    for (const weld::GaugeOutcome& gauge : outcome.gauges)
        finding.deviation.push_back(gauge.value - gauge.nominal);
    finding.total_s = outcome.moves.empty() ? 0 : outcome.moves.back().end_s;
    for (const weld::MoveOutcome& move : outcome.moves)
        finding.hottest_interpass_k = std::max(finding.hottest_interpass_k, move.welded ? move.interpass_k : 0);
    finding.turns = space.turns(order);
    finding.setup_changes = space.setup_changes(order);
    finding.phrases = count_phrases(space, order);
    const grading::OrderPoints points = grading::order_points(exercise, outcome);
    finding.points_lost = points.possible - points.reached;
    return finding;
}

bool must_stay_cool(const grading::Exercise& exercise) {
    return grading::must_be_met(exercise, grading::must_stay_cool);
}

std::vector<double> start_limits_k(const grading::Exercise& exercise) {
    const double air_k = exercise.part->ambient_k;
    return std::vector<double>(exercise.part->passes.size(),
                               std::lerp(air_k, exercise.heat.interpass_max_k, cooled_to));
}

std::vector<double> start_limits_k(const grading::Exercise& exercise, const weld::Outcome& rehearsed,
                                   const weld::Outcome& simulated) {
    std::vector<double> limits_k = start_limits_k(exercise);
    const double air_k = exercise.part->ambient_k;
    for (std::size_t k = 0; k < rehearsed.moves.size(); ++k) {
        const auto* weld = std::get_if<weld::WeldPass>(&rehearsed.plan.moves[k].what);
        const double found_k = simulated.moves[k].interpass_k - air_k,
                     expected_k = rehearsed.moves[k].interpass_k - air_k;
        if (!weld || found_k <= std::max(0.0, expected_k))
            continue;
        double& limit_k = limits_k[static_cast<std::size_t>(weld->pass)];
        limit_k = air_k + (limit_k - air_k) * std::max(0.0, expected_k) / found_k;
    }
    return limits_k;
}

Order order_as_rehearsed(const OrderSpace& space, const weld::Rehearsal& rehearsal, weld::Plan plan) {
    const auto outcome = rehearsal.weld(plan);
    for (std::size_t k = 0; k < plan.moves.size(); ++k)
        if (auto* wait = std::get_if<weld::Wait>(&plan.moves[k].what))
            *wait = {outcome->moves[k].end_s - outcome->moves[k].start_s, {}};
    return space.order_of(plan);
}

Order cooled(const OrderSpace& space, const weld::Rehearsal& rehearsal, const Order& order,
             const std::vector<double>& start_limits_k) {
    const std::vector<double> waits_s =
        rehearsal.waits_to_stay_below(space.plan(order), start_limits_k, space.waits_s());
    Order cooled = order;
    for (std::size_t k = 0; k < waits_s.size(); ++k)
        cooled.passes[k].wait =
            static_cast<int>(std::ranges::find(space.waits_s(), waits_s[k]) - space.waits_s().begin());
    return cooled;
}

Problem exercise_problem(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal) {
    Problem problem{
        &space,
        [&exercise, &space, &rehearsal] { return std::make_unique<RehearsalEvaluator>(exercise, space, rehearsal); },
        [&exercise](const Finding& finding) { return cost_of(exercise, finding); },
        [&exercise](const Finding& finding) { return worst_share(*exercise.part, finding); },
        {}};
    if (must_stay_cool(exercise))
        problem.cooled = [&space, &rehearsal, limits_k = start_limits_k(exercise)](const Order& order) {
            return cooled(space, rehearsal, order, limits_k);
        };
    return problem;
}

Problem limits_problem(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal) {
    Problem problem = exercise_problem(exercise, space, rehearsal);
    problem.cost = problem.distortion;
    return problem;
}

Problem simplest_problem(const grading::Exercise& exercise, const OrderSpace& space, const weld::Rehearsal& rehearsal) {
    constexpr double kept = 0.9; // of a limit: the full simulation may find a little more than the rehearsal
    Problem problem = exercise_problem(exercise, space, rehearsal);
    const part::Part& part = *exercise.part;
    const double hottest_k = exercise.heat.interpass_max_k;
    problem.cost = [&part, hottest_k](const Finding& finding) {
        const double worst = worst_share(part, finding);
        const double too_hot_k = std::max(0.0, finding.hottest_interpass_k - hottest_k);
        return finding.phrases + (worst > kept ? 1000 + 100 * worst : 0) + 0.1 * too_hot_k + 0.5 * worst;
    };
    return problem;
}

Order listed_order(const OrderSpace& space, const Order& like) {
    Order listed = like;
    std::ranges::sort(listed.passes, {}, &OrderedPass::pass);
    for (OrderedPass& pass : listed.passes)
        pass.reversed = false, pass.wait = 0;
    listed.free_before = space.size();
    space.repair(listed);
    return listed;
}

} // namespace holdtrue::order
