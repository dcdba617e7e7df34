#include "grading/aspects.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace holdtrue::grading {
namespace {

// One thing judged: its weight within the aspect, how much of it was reached, and the remarks for the rest.
struct Item {
    double weight = 1, credit = 1;
    std::vector<Remark> remarks; // points_lost as share of this item
};

const weld::WeldPass* weld_of(const Marking& marking, std::size_t move) {
    return std::get_if<weld::WeldPass>(&marking.outcome.plan.moves[move].what);
}

// Makes one remark of those of a kind, told of the worst of them: they have one cure, and a list of twenty would hide
// everything else.
void sum_up(std::vector<Remark>& remarks, Remark worst) {
    Remark all = std::move(worst);
    std::string moves;
    all.points_lost = 0;
    for (const Remark& remark : remarks) {
        moves += (moves.empty() ? "" : ", ") + std::to_string(remark.move + 1);
        all.points_lost += remark.points_lost;
    }
    all.chosen = Sentence(worded("{0} passes (moves {1}), most of all {2}"),
                          {std::to_string(remarks.size()), moves, all.chosen});
    remarks = {std::move(all)};
}

// Full credit up to the limit, none 150 K above it.
Item judge_interpass(const Marking& marking) {
    constexpr double none_at_k = 150;
    const HeatLimits& limits = marking.exercise.heat;
    const std::string limit = units::temperature_text(limits.interpass_max_k, marking.system);
    std::size_t welds = 0;
    double lost = 0;
    Item item;
    item.weight = 2;
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k)
        welds += marking.outcome.moves[k].welded;
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k) {
        const weld::MoveOutcome& move = marking.outcome.moves[k];
        if (!move.welded)
            continue;
        const double over_k = move.interpass_k - limits.interpass_max_k;
        if (over_k <= 0)
            continue;
        Remark remark;
        remark.verdict = Verdict::fail;
        remark.move = static_cast<int>(k);
        remark.card = weld_of(marking, k)->card;
        remark.topic = worded("interpass temperature");
        remark.chosen = name_of_move(marking, remark.move);
        remark.measured =
            Sentence(worded("{0} where the arc strikes"), {units::temperature_text(move.interpass_k, marking.system)});
        remark.limit = Sentence(worded("at most {0}"), {limit});
        remark.source = Sentence::of_file(limits.interpass_source);
        constexpr double flows_from_k = 673.15;
        remark.consequence =
            move.interpass_k > flows_from_k
                ? worded("hot metal flows away under the arc: coarse grain, a sagging bead, and on thin sheet a hole")
                : worded("heat adds up: the pool grows beyond what the card was set for, and the part pulls unevenly");
        remark.must_be_met = must_be_met(marking.exercise, must_stay_cool);
        remark.points_lost = std::min(1.0, over_k / none_at_k) / static_cast<double>(welds);
        lost += remark.points_lost;
        item.remarks.push_back(std::move(remark));
    }
    item.credit = 1 - lost;
    // A wait before one pass only puts off where it gets too hot: the passes after it, or those on a hotter card.
    const bool only_runs = std::ranges::all_of(item.remarks, [&](const Remark& remark) {
        const int pass = weld_of(marking, static_cast<std::size_t>(remark.move))->pass;
        return marking.part().passes[static_cast<std::size_t>(pass)].kind == part::PassKind::run;
    });
    for (Remark& remark : item.remarks)
        remark.try_this = {only_runs ? worded("Put a wait until below {0} before every run: it takes no time where the "
                                              "part is cooler. To save time, weld a pass elsewhere meanwhile")
                                     : worded("Put a wait until below {0} before every pass: it takes no time where "
                                              "the part is cooler. To save time, weld a pass elsewhere meanwhile"),
                           {limit}};
    if (item.remarks.size() > 1) {
        Remark hottest = *std::ranges::max_element(item.remarks, {}, [&](const Remark& remark) {
            return marking.outcome.moves[static_cast<std::size_t>(remark.move)].interpass_k;
        });
        hottest.measured = Sentence(worded("up to {0}"), {hottest.measured});
        sum_up(item.remarks, std::move(hottest));
    } else if (item.remarks.empty() && welds > 0) {
        Remark remark;
        remark.topic = worded("interpass temperature");
        remark.chosen = worded("interpass temperature before every arc");
        remark.measured =
            Sentence(worded("at most {0}"), {units::temperature_text(hottest_start_k(marking), marking.system)});
        remark.limit = Sentence(worded("at most {0}"), {limit});
        remark.source = Sentence::of_file(limits.interpass_source);
        item.remarks.push_back(std::move(remark));
    }
    return item;
}

// Full credit up to the limit, none at twice the limit; taken at the start of every weld, the worst counts.
Item judge_evenness(const Marking& marking) {
    const weld::Outcome& outcome = marking.outcome;
    const double limit_k = marking.exercise.heat.even_heat_max_k;
    double worst_k = 0;
    int worst_move = -1, worst_axis = 0;
    for (std::size_t k = 0; k < outcome.moves.size(); ++k)
        for (int axis = 0; axis < 3; ++axis)
            if (const double difference = outcome.moves[k].halves_k[static_cast<std::size_t>(axis)];
                std::abs(difference) > std::abs(worst_k)) {
                worst_k = difference;
                worst_axis = axis;
                worst_move = static_cast<int>(k);
            }
    Item item;
    const double over = std::abs(worst_k) - limit_k;
    item.credit = over <= 0 ? 1 : std::max(0.0, 1 - over / limit_k);
    Remark remark;
    remark.verdict = over <= 0 ? Verdict::pass : item.credit > 0 ? Verdict::caution : Verdict::fail;
    remark.topic = worded("evenness of heat");
    remark.chosen = worded("evenness of the part");
    remark.limit = Sentence(worded("halves within {0}"), {units::difference_text(limit_k, marking.system)});
    remark.source = worded("exercise");
    remark.points_lost = 1 - item.credit;
    remark.measured = units::difference_text(std::abs(worst_k), marking.system);
    if (worst_move >= 0) {
        const std::string axis(1, "xyz"[worst_axis]);
        const std::string hot = (worst_k > 0 ? "+" : "-") + axis, cold = (worst_k > 0 ? "-" : "+") + axis;
        remark.move = worst_move;
        remark.chosen = Sentence(worded("evenness of the part before {0}"), {name_of_move(marking, worst_move)});
        remark.measured =
            Sentence(worded("the {0} half is {1} hotter than the {2} half"), {hot, remark.measured, cold});
        if (over > 0) {
            remark.consequence = worded("the hot half is longer and weaker while the next weld pulls on it");
            remark.try_this = not_computed({worded("Go to the {0} half for the passes before this one"), {cold}});
        }
    }
    item.remarks.push_back(std::move(remark));
    return item;
}

// Of those that belong to the task.
std::set<int> joints_with_tacks(const Marking& marking) {
    std::set<int> joints;
    for (const part::Pass& pass : marking.part().passes)
        if (pass.kind == part::PassKind::tack && marking.exercise.asks_for(pass.joint))
            joints.insert(pass.joint);
    return joints;
}

// A seam welded while tacks of its joint are still to come opens or closes as it goes.
Item judge_tacks(const Marking& marking) {
    const part::Part& part = marking.part();
    const std::vector<LooseJoint> loose = loose_joints(marking);
    const std::set<int> with_tacks = joints_with_tacks(marking);

    Item item;
    item.weight = with_tacks.empty() ? 0 : 2; // as much as interpass: a loose seam is no smaller fault than a hot one
    for (const LooseJoint& joint : loose) {
        const std::string& name = part.joints[static_cast<std::size_t>(joint.joint)].name;
        Remark remark;
        remark.verdict = Verdict::fail;
        remark.move = joint.first_run;
        remark.topic = worded("tacks");
        remark.chosen = name_of_move(marking, remark.move);
        remark.measured = joint.last_tack < 0 ? Sentence(worded("no tack on '{0}'"), {name})
                                              : Sentence(worded("tacks of '{0}' come as late as move {1}"),
                                                         {name, std::to_string(joint.last_tack + 1)});
        remark.limit = worded("all tacks of a joint before its first run");
        remark.source = worded("common practice, no source");
        remark.consequence = worded("an untacked seam opens or closes ahead of the arc");
        remark.try_this =
            Sentence(worded("Put the tacks of '{0}' before move {1}"), {name, std::to_string(joint.first_run + 1)});
        remark.points_lost = 1 / static_cast<double>(with_tacks.size());
        remark.must_be_met = must_be_met(marking.exercise, must_be_tacked);
        item.credit -= remark.points_lost;
        item.remarks.push_back(std::move(remark));
    }
    if (item.remarks.size() > 1) {
        Remark first = item.remarks.front();
        std::vector<std::string> names;
        for (const LooseJoint& joint : loose)
            names.push_back(part.joints[static_cast<std::size_t>(joint.joint)].name);
        first.measured = Sentence(worded("joints not tacked in time: {0}"), {text::all_of(names)});
        first.try_this = worded("Tack each joint before its first run");
        sum_up(item.remarks, std::move(first));
    }
    return item;
}

} // namespace

std::vector<LooseJoint> loose_joints(const Marking& marking) {
    const part::Part& part = marking.part();
    std::map<int, int> last_tack, first_run; // by joint
    for (std::size_t k = 0; k < marking.outcome.moves.size(); ++k)
        if (const weld::WeldPass* weld = weld_of(marking, k)) {
            const part::Pass& pass = part.passes[static_cast<std::size_t>(weld->pass)];
            if (pass.kind == part::PassKind::tack)
                last_tack[pass.joint] = static_cast<int>(k);
            else
                first_run.try_emplace(pass.joint, static_cast<int>(k));
        }
    const std::set<int> with_tacks = joints_with_tacks(marking);
    std::vector<LooseJoint> loose;
    for (const auto& [joint, run] : first_run) {
        const auto tack = last_tack.find(joint);
        if (with_tacks.contains(joint) && (tack == last_tack.end() || tack->second > run))
            loose.push_back({joint, run, tack == last_tack.end() ? -1 : tack->second});
    }
    return loose;
}

double hottest_start_k(const Marking& marking) {
    double hottest_k = 0;
    for (const weld::MoveOutcome& move : marking.outcome.moves)
        hottest_k = std::max(hottest_k, move.welded ? move.interpass_k : 0);
    return hottest_k;
}

AspectMark mark_order_and_heat(const Marking& marking) {
    std::vector<Item> items{judge_interpass(marking), judge_tacks(marking)};
    if (marking.exercise.heat.even_heat_max_k > 0)
        items.push_back(judge_evenness(marking));
    double weight = 0;
    for (const Item& item : items)
        weight += item.weight;
    AspectMark result;
    result.credit = 0;
    for (Item& item : items) {
        result.credit += item.weight / weight * item.credit;
        for (Remark& remark : item.remarks) {
            remark.points_lost *= item.weight / weight;
            result.remarks.push_back(std::move(remark));
        }
    }
    result.credit = std::clamp(result.credit, 0.0, 1.0);
    return result;
}

} // namespace holdtrue::grading
