#include "grading/aspects.h"

#include <algorithm>

namespace holdtrue::grading {
namespace {

// 1 up to `good`, 0 from `bad` on, straight between.
double falling(double value, double good, double bad) {
    if (value <= good)
        return 1;
    return value >= bad ? 0 : (bad - value) / (bad - good);
}

double took_s(const Marking& marking, std::size_t move) {
    return marking.outcome.moves[move].end_s - marking.outcome.moves[move].start_s;
}

int longest_wait(const Marking& marking) {
    int longest = -1;
    double most_s = 0;
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k)
        if (std::holds_alternative<weld::Wait>(marking.outcome.plan.moves[k].what) && took_s(marking, k) > most_s) {
            most_s = took_s(marking, k);
            longest = static_cast<int>(k);
        }
    return longest;
}

Sentence points_between(bool counts, std::string full_to, std::string none_from) {
    if (!counts)
        return worded("not limited");
    return {worded("full points up to {0}, none from {1}"), {std::move(full_to), std::move(none_from)}};
}

// What costs the most time that another order or plan could save, and what to try: changes of settings or a wait.
void explain_time(const Marking& marking, Remark& time) {
    const weld::Outcome& outcome = marking.outcome;
    time.consequence = worded("the bench is held for longer than the job is worth");
    const int wait = longest_wait(marking);
    const double wait_s = wait < 0 ? 0 : took_s(marking, static_cast<std::size_t>(wait));
    if (outcome.setup_changes() > 1 && outcome.setup_change_s() > wait_s) {
        const auto longest = std::ranges::max_element(outcome.moves, {}, &weld::MoveOutcome::setup_change_s);
        time.move = static_cast<int>(longest - outcome.moves.begin());
        time.try_this = not_computed({worded("Dials, wire or gas are changed {0} times: weld the passes of one card "
                                             "together, as far as the heat stays even"),
                                      {std::to_string(outcome.setup_changes())}});
        return;
    }
    time.move = wait;
    time.try_this = wait >= 0 ? not_computed({worded("The longest wait is move {0}: weld somewhere cool meanwhile "
                                                     "instead of standing by"),
                                              {std::to_string(wait + 1)}})
                              : worded("Look for turns and clamp moves that can be saved");
}

} // namespace

AspectMark mark_time_and_handling(const Marking& marking, const Quality& quality) {
    const TimeLimits& limits = marking.exercise.time;
    const weld::Outcome& outcome = marking.outcome;
    AspectMark result;

    const double bench_s = outcome.moves.empty() ? 0 : outcome.moves.back().end_s;
    const bool time_counts = limits.slow_s > 0;
    const double time_credit = time_counts ? falling(bench_s, limits.good_s, limits.slow_s) : 1;
    Remark time;
    time.verdict = time_credit >= 1 ? Verdict::pass : time_credit > 0 ? Verdict::caution : Verdict::fail;
    time.topic = worded("time");
    time.chosen = worded("time at the bench");
    time.measured = units::duration_text(bench_s);
    time.limit = points_between(time_counts, units::duration_text(limits.good_s), units::duration_text(limits.slow_s));
    time.source = worded("exercise");
    time.points_lost = 0.5 * (1 - time_credit);
    if (outcome.setup_changes() > 0)
        time.measured = Sentence(worded("{0}, {1} of it to set dials, wire or gas"),
                                 {time.measured, units::duration_text(outcome.setup_change_s())});
    if (time_credit < 1)
        explain_time(marking, time);
    result.remarks.push_back(time);

    const auto turns = static_cast<int>(std::ranges::count_if(
        outcome.plan.moves, [](const weld::Move& move) { return std::holds_alternative<weld::Turn>(move.what); }));
    const bool turns_count = limits.turns_many > 0;
    const double turn_credit = turns_count ? falling(turns, limits.turns_good, limits.turns_many) : 1;
    Remark handling;
    handling.verdict = turn_credit >= 1 ? Verdict::pass : turn_credit > 0 ? Verdict::caution : Verdict::fail;
    handling.topic = worded("turns");
    handling.chosen = worded("turning the part over");
    handling.measured = turns == 1 ? worded("1 turn") : Sentence(worded("{0} turns"), {std::to_string(turns)});
    handling.limit = points_between(turns_count, std::to_string(limits.turns_good), std::to_string(limits.turns_many));
    handling.source = worded("exercise");
    handling.points_lost = 0.5 * (1 - turn_credit);
    if (turn_credit < 1) {
        handling.consequence = worded("every turn costs time, and a hot part can slip");
        handling.try_this =
            worded("Weld all that one pose allows, as far as the heat stays even, before the next turn");
    }
    result.remarks.push_back(handling);

    // Speed is worth nothing on scrap: it counts as far as the weakest of the other three.
    const double raw = 0.5 * (time_credit + turn_credit);
    const double weakest = std::min({quality.settings, quality.order_and_heat, quality.gauges});
    result.credit = raw * weakest;
    if (result.credit < raw) {
        const text::Wording of = weakest == quality.gauges     ? worded("{0} % of the gauges' credit")
                                 : weakest == quality.settings ? worded("{0} % of the settings' credit")
                                                               : worded("{0} % of order and heat's credit");
        Remark scaled;
        scaled.verdict = weakest > 0.7 ? Verdict::pass : Verdict::caution;
        scaled.topic = worded("time on a part that is not right");
        scaled.chosen = worded("time counts as far as the work was right");
        scaled.measured = Sentence(of, {units::number_text(100 * weakest, 0)});
        scaled.limit = std::string("100 %");
        scaled.source = worded("exercise");
        scaled.consequence = worded("a quick job that is not right is done twice");
        scaled.try_this = worded("Bring settings, heat and gauges right first, then look for time");
        scaled.points_lost = raw - result.credit;
        result.remarks.push_back(std::move(scaled));
    }
    return result;
}

} // namespace holdtrue::grading
