#include "weld/check_plan.h"

#include "arc/read_card.h"
#include "text/toml_reader.h"
#include "units/quantity_text.h"
#include "weld/choose_card.h"

#include <algorithm>
#include <map>
#include <set>

namespace holdtrue::weld {
namespace {

using text::Sentence;
using text::Told;
using text::worded;

template <class List>
bool has(const List& list, int index) {
    return index >= 0 && static_cast<std::size_t>(index) < list.size();
}

template <class List>
decltype(auto) get(List& list, int index) {
    return list[static_cast<std::size_t>(index)];
}

text::Problem problem(Told what, Told fix) { return {"", 0, std::move(what), std::move(fix)}; }

bool overlap(const part::Pass& a, const part::Pass& b) { return a.from_m < b.to_m - 1e-6 && b.from_m < a.to_m - 1e-6; }

std::optional<text::Problem> obstacle_to_weld(const WeldPass& weld, const JobState& state, const part::Part& part,
                                              std::size_t card_count) {
    if (!has(part.passes, weld.pass))
        return problem(worded("the move welds a pass that the part does not have"),
                       worded("choose one of the part's passes"));
    const part::Pass& pass = get(part.passes, weld.pass);
    const part::Joint& joint = get(part.joints, pass.joint);
    if (weld.card < 0 || static_cast<std::size_t>(weld.card) >= card_count)
        return problem({worded("no card is set for pass {0}"), {pass.name}},
                       {worded("let a card serve \"{0}\", or name a card in the move"), {joint.card_group}});
    if (get(state.welded, weld.pass))
        return problem({worded("pass {0} is welded twice"), {pass.name}}, worded("leave one of the two out"));
    const std::vector<std::string>& reach = joint.positions_reachable;
    const std::string& pose = get(part.poses, state.pose).name;
    if (!reach.empty() && std::ranges::find(reach, pose) == reach.end())
        return problem(
            {worded("pass {0} cannot be reached while the part lies {1}"), {pass.name, Sentence::of_file(pose)}},
            {worded("turn it to '{0}' first"), {Sentence::of_file(reach.front())}});
    for (std::size_t k = 0; k < part.passes.size(); ++k) {
        const part::Pass& other = part.passes[k];
        if (other.joint != pass.joint || !overlap(other, pass))
            continue;
        const bool welded = state.welded[k];
        if (pass.kind == part::PassKind::run && other.kind == part::PassKind::run && other.layer == pass.layer - 1 &&
            !welded)
            return problem({worded("pass {0} lies on {1}, which is not welded yet"), {pass.name, other.name}},
                           {worded("weld {0} first"), {other.name}});
        if (pass.kind == part::PassKind::tack && other.kind == part::PassKind::run && welded)
            return problem({worded("tack {0} comes after {1}, which covers its place"), {pass.name, other.name}},
                           worded("tack first, or leave the tack out"));
    }
    return std::nullopt;
}

std::optional<text::Problem> obstacle_to_wait(const Wait& wait, const part::Part& part) {
    if (!(wait.time_s >= 0) || (wait.time_s == 0 && !wait.until_below_k))
        return problem(worded("the wait has no length"),
                       worded("say how long to wait, until below which temperature, or both"));
    // In air the part only comes close to ambient temperature.
    if (wait.until_below_k && *wait.until_below_k < part.ambient_k + 5)
        return problem({worded("the part never gets below {0} in air of {1}"),
                        {units::temperature_text(*wait.until_below_k), units::temperature_text(part.ambient_k)}},
                       worded("wait for a temperature at least 5 K above"));
    return std::nullopt;
}

std::optional<text::Problem> obstacle_to_turn(const Turn& turn, const JobState& state, const part::Part& part) {
    if (!has(part.poses, turn.pose))
        return problem(worded("the move turns the part to a pose it does not have"),
                       worded("choose one of the part's poses"));
    if (turn.pose == state.pose)
        return problem({worded("the part lies {0} already"), {Sentence::of_file(get(part.poses, turn.pose).name)}},
                       worded("leave the turn out, or turn it to another pose"));
    const auto fixed = std::ranges::find(state.fixed, true);
    if (!part.fixture.turns_with_part && fixed != state.fixed.end())
        return problem({worded("the part cannot be turned while clamp {0} holds it"),
                        {part.clamps[static_cast<std::size_t>(fixed - state.fixed.begin())].name}},
                       {worded("free every clamp first; {0} does not turn with the part"),
                        {Sentence::of_file(part.fixture.name)}});
    return std::nullopt;
}

std::optional<text::Problem> obstacle_to_clamp(const ClampMove& move, const JobState& state, const part::Part& part) {
    if (!has(part.clamps, move.clamp))
        return problem(worded("the move uses a clamp that the part does not have"),
                       worded("choose one of the part's clamps"));
    if (get(state.fixed, move.clamp) == move.fix)
        return problem({move.fix ? worded("clamp {0} is fixed already") : worded("clamp {0} is free already"),
                        {get(part.clamps, move.clamp).name}},
                       worded("leave the move out"));
    return std::nullopt;
}

JobState start(const part::Part& part) {
    JobState state;
    for (const part::Clamp& clamp : part.clamps)
        state.fixed.push_back(clamp.fixed_at_start);
    state.welded.resize(part.passes.size(), false);
    return state;
}

void apply(const Move& move, JobState& state, const part::Part& part) {
    if (const auto* weld = std::get_if<WeldPass>(&move.what); weld && has(part.passes, weld->pass))
        state.welded[static_cast<std::size_t>(weld->pass)] = true;
    if (const auto* turn = std::get_if<Turn>(&move.what); turn && has(part.poses, turn->pose))
        state.pose = turn->pose;
    if (const auto* clamp = std::get_if<ClampMove>(&move.what); clamp && has(part.clamps, clamp->clamp))
        state.fixed[static_cast<std::size_t>(clamp->clamp)] = clamp->fix;
}

void check_cards(const Plan& plan, const part::Part& part, const arc::Shop& shop, std::vector<PlanProblem>& found) {
    const std::vector<std::string> known = card_groups(part);
    std::map<std::string, std::string> served; // group -> card
    std::set<std::string> names;
    for (std::size_t k = 0; k < plan.cards.size(); ++k) {
        const arc::SettingCard& card = plan.cards[k];
        const auto told = [&](text::Problem what) {
            what.line = card.line;
            found.push_back({-1, static_cast<int>(k), -1, std::move(what)});
        };
        if (!names.insert(card.name).second)
            told(problem({worded("there are two cards \"{0}\""), {card.name}}, worded("give each a name of its own")));
        for (text::Problem& what : arc::check_card(card, shop))
            told(std::move(what));
        for (const std::string& group : card.groups) {
            if (std::ranges::find(known, group) == known.end())
                told(problem({worded("card {0} serves \"{1}\", which is no joint or card group of the part"),
                              {card.name, group}},
                             text::did_you_mean(group, known, {worded("it can be {0}"), {text::one_of(known)}})));
            const auto [other, is_new] = served.emplace(group, card.name);
            if (!is_new)
                told(problem({worded("cards {0} and {1} both serve \"{2}\""), {other->second, card.name, group}},
                             worded("take it from one of them")));
        }
    }
}

void check_predictions(const Plan& plan, const part::Part& part, std::vector<PlanProblem>& found) {
    std::set<int> seen;
    for (std::size_t k = 0; k < plan.predictions.size(); ++k) {
        const int gauge = plan.predictions[k].gauge;
        const auto told = [&](text::Problem what) {
            what.line = plan.predictions[k].line;
            found.push_back({-1, -1, static_cast<int>(k), std::move(what)});
        };
        if (!has(part.gauges, gauge))
            told(problem(worded("a prediction is for a gauge that the part does not have"),
                         worded("choose one of the part's gauges")));
        else if (!seen.insert(gauge).second)
            told(problem({worded("gauge {0} is predicted twice"), {get(part.gauges, gauge).name}},
                         worded("keep one of the two")));
    }
}

} // namespace

JobState state_before(const Plan& plan, const part::Part& part, std::size_t move) {
    JobState state = start(part);
    for (std::size_t k = 0; k < std::min(move, plan.moves.size()); ++k)
        apply(plan.moves[k], state, part);
    return state;
}

std::optional<text::Problem> obstacle(const Move& move, const JobState& state, const part::Part& part,
                                      std::size_t card_count) {
    if (const auto* weld = std::get_if<WeldPass>(&move.what))
        return obstacle_to_weld(*weld, state, part, card_count);
    if (const auto* wait = std::get_if<Wait>(&move.what))
        return obstacle_to_wait(*wait, part);
    if (const auto* turn = std::get_if<Turn>(&move.what))
        return obstacle_to_turn(*turn, state, part);
    return obstacle_to_clamp(std::get<ClampMove>(move.what), state, part);
}

std::vector<PlanProblem> check_plan(const Plan& plan, const part::Part& part, const arc::Shop& shop) {
    std::vector<PlanProblem> found;
    check_cards(plan, part, shop, found);
    JobState state = start(part);
    for (std::size_t k = 0; k < plan.moves.size(); ++k) {
        const Move& move = plan.moves[k];
        if (std::optional<text::Problem> reason = obstacle(move, state, part, plan.cards.size())) {
            reason->line = move.line;
            found.push_back({static_cast<int>(k), -1, -1, std::move(*reason)});
        }
        apply(move, state, part); // as if it had been done, so that one slip is told once
    }
    check_predictions(plan, part, found);
    for (PlanProblem& each : found)
        each.told.file = plan.file.string();
    return found;
}

} // namespace holdtrue::weld
