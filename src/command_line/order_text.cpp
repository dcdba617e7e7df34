#include "command_line/order_text.h"

#include "command_line/text_table.h"
#include "order/exercise_problem.h"
#include "part/gauge_text.h"
#include "units/quantity_text.h"
#include "weld/choose_card.h"
#include "weld/move_text.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace holdtrue::command_line {
namespace {

using order::Candidate;
using order::Finding;
using order::SingleChange;

std::string points_text(double points) { return units::number_text(points, 2); }
std::string percent_text(double share) { return units::number_text(100 * share, 0) + " %"; }

std::string beaten_text(double share) {
    if (share <= 0)
        return "None of them loses more points than the plan.";
    return (share >= 1 ? std::string("All") : order::share_text(share)) + " of them lose more points than the plan.";
}

const std::string& pass_name(const part::Part& part, int pass) {
    return part.passes[static_cast<std::size_t>(pass)].name;
}

// What a finding says in a row of a table.
std::vector<std::string> finding_cells(const part::Part& part, const Finding& finding) {
    return {points_text(finding.points_lost),
            percent_text(order::worst_share(part, finding)),
            units::duration_text(finding.total_s),
            units::temperature_text(finding.hottest_interpass_k, units::System::metric),
            std::to_string(finding.turns),
            std::to_string(finding.setup_changes),
            std::to_string(finding.phrases)};
}

std::string origin_text(order::Finalist::Origin origin, int number) {
    switch (origin) {
    case order::Finalist::Origin::plan:
        return "the plan";
    case order::Finalist::Origin::listed:
        return "as the part lists them";
    case order::Finalist::Origin::simplest:
        return "simplest within limits";
    case order::Finalist::Origin::nearest:
        return "nearest to the limits";
    case order::Finalist::Origin::found:
        return "found " + std::to_string(number);
    }
    return {};
}

std::string change_text(const part::Part& part, const order::OrderSpace& space, const order::Order& order,
                        const SingleChange& change) {
    const auto at = [&](int place) {
        return "'" + pass_name(part, order.passes[static_cast<std::size_t>(place)].pass) + "'";
    };
    switch (change.kind) {
    case SingleChange::Kind::swap:
        return "let " + at(change.from) + " and " + at(change.to) + " change places";
    case SingleChange::Kind::move:
        return "weld " + at(change.from) + (change.to > change.from ? " after " : " before ") + at(change.to);
    case SingleChange::Kind::reverse:
        return "run " + at(change.from) + " the other way";
    case SingleChange::Kind::wait:
        return "wait " + units::duration_text(space.waits_s()[static_cast<std::size_t>(change.to)]) + " before " +
               at(change.from);
    case SingleChange::Kind::no_wait:
        return "do not wait before " + at(change.from);
    case SingleChange::Kind::free_clamps:
        return change.to < static_cast<int>(order.passes.size()) ? "take the clamps off before " + at(change.to)
                                                                 : "take the clamps off at the end";
    }
    return {};
}

// How many of the random orders lose how many points, and where the plan is.
std::string histogram(const order::Study& study) {
    double least = study.plan.finding.points_lost, most = least;
    for (const Candidate& candidate : study.sample) {
        least = std::min(least, candidate.finding.points_lost);
        most = std::max(most, candidate.finding.points_lost);
    }
    constexpr int bars = 12, width = 50;
    const double step = std::max(1e-9, (most - least) / bars);
    const auto bar_of = [&](double points) {
        return std::clamp(static_cast<int>((points - least) / step), 0, bars - 1);
    };
    std::vector<int> count(bars, 0);
    for (const Candidate& candidate : study.sample)
        ++count[static_cast<std::size_t>(bar_of(candidate.finding.points_lost))];
    const int tallest = std::max(1, *std::ranges::max_element(count));
    TextTable table("rrl");
    for (int k = 0; k < bars; ++k) {
        const int here = count[static_cast<std::size_t>(k)];
        std::string bar(static_cast<std::size_t>((here * width + tallest - 1) / tallest), '#');
        if (k == bar_of(study.plan.finding.points_lost))
            bar += (bar.empty() ? "" : " ") + std::string("<- the plan");
        table.add({points_text(least + k * step), std::to_string(here), bar});
    }
    return table.text();
}

nlohmann::json finding_json(const part::Part& part, const Finding& finding) {
    return {{"deviation", finding.deviation},
            {"worst_share_of_limit", order::worst_share(part, finding)},
            {"points_lost", finding.points_lost},
            {"bench_s", finding.total_s},
            {"hottest_interpass_k", finding.hottest_interpass_k},
            {"turns", finding.turns},
            {"setup_changes", finding.setup_changes},
            {"phrases", finding.phrases}};
}

nlohmann::json order_json(const part::Part& part, const order::OrderSpace& space, const order::Order& order) {
    nlohmann::json passes = nlohmann::json::array();
    for (const order::OrderedPass& each : order.passes)
        passes.push_back({{"pass", pass_name(part, each.pass)},
                          {"reversed", each.reversed},
                          {"wait_s", space.waits_s()[static_cast<std::size_t>(each.wait)]}});
    return {{"passes", passes}, {"free_clamps_before", order.free_before}};
}

std::string out_of_reach_text(const order::OutOfReach& reach, const order::OrderSpace& space, int random_orders,
                              const std::optional<ProposedReach>& proposed) {
    const double best = reach.nearest.front();
    std::string text = "No order found keeps every limit with these setting cards.\n";
    if (reach.tried_all)
        text += "  Proved by having tried every order there is, rehearsed: the best leaves the worst gauge at " +
                percent_text(best) + "\n  of its limit.\n";
    else
        text += "  Not proved: of about 10^" + units::number_text(space.digits_of_count(), 0) +
                " orders only those tried are known. " + std::to_string(reach.nearest.size()) +
                " searches for nothing else, one\n  independent of the other, left the worst gauge at " +
                percent_text(best) + " to " + percent_text(reach.nearest.back()) + " of its limit.\n";
    if (reach.most_random_within < 1)
        text += "  None of " + std::to_string(random_orders) + " random orders keeps them, so at most " +
                units::number_text(100 * reach.most_random_within, 1) +
                " % of all orders without waits do (95 % sure).\n";
    if (random_orders > 0)
        text += "  Nine in ten random orders lie between " + percent_text(reach.random_low) + " and " +
                percent_text(reach.random_high) + ": " +
                (reach.cards_decide() ? "it is the cards that put the limits out of reach,\n  not the order.\n"
                                      : "orders differ by as much as is missing.\n");
    if (!proposed)
        return text + "  Look at the cards: less heat, more tacks or clamps; then ask again with --plan.\n\n";
    text += "  With cards looked for among those that the rule book allows, a short search leaves the worst gauge at " +
            percent_text(proposed->nearest) + ".\n";
    return text + (proposed->nearest < best ? "  Ask again without --plan to search from those; --save keeps them.\n\n"
                                            : "  They are no help here: more tacks or clamps may be.\n\n");
}

// For a person who carries it out: numbered as marks, sheets and the window number moves.
std::string order_text(const part::Part& part, const weld::Plan& plan, units::System system) {
    std::string text;
    for (std::size_t k = 0; k < plan.moves.size(); ++k) {
        if (const arc::SetupChange change = weld::setup_change_before(plan, k); change.any())
            text += "     " + arc::text_of(change) + " for '" +
                    plan.cards[static_cast<std::size_t>(std::get<weld::WeldPass>(plan.moves[k].what).card)].name +
                    "'\n";
        const std::string number = std::to_string(k + 1);
        text += std::string(number.size() < 3 ? 3 - number.size() : 0, ' ') + number + ". " +
                weld::move_text(part, plan.moves[k], system) + '\n';
    }
    return text;
}

} // namespace

std::string study_text(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study,
                       const std::optional<ProposedReach>& proposed) {
    const part::Part& part = *exercise.part;
    const order::OrderSpace space(exercise.part, plan);
    std::string text = exercise.title + "\nPlan: " + plan.title + "\n\n";

    const bool waits_for_heat = std::ranges::any_of(plan.moves, [](const weld::Move& move) {
        const auto* wait = std::get_if<weld::Wait>(&move.what);
        return wait && wait->until_below_k;
    });
    if (waits_for_heat)
        text += "Orders wait for a time, not for a temperature: waits of the plan that name no time count as " +
                units::duration_text(space.waits_s().back()) + " here.\n\n";
    if (!study.sample.empty()) {
        text += "Points lost by order, heat, gauges and time: " + std::to_string(study.sample.size()) +
                " random orders\n" + histogram(study) + beaten_text(study.standing.points_beat) + "\n\n";
        TextTable gauges("lrrr");
        gauges.add({"gauge", "off by", "limit", "nearer than"});
        for (std::size_t g = 0; g < part.gauges.size(); ++g) {
            const part::Gauge& gauge = part.gauges[g];
            gauges.add({gauge.title.empty() ? gauge.name : gauge.title,
                        part::gauge_change_text(gauge, study.plan.finding.deviation[g]),
                        "±" + part::gauge_text(gauge, gauge.tolerance), percent_text(study.standing.gauge_beats[g])});
        }
        text += gauges.text() + '\n';
    }

    text += "One change that helps the plan most:\n";
    const auto share_of_limit = [&](const Finding& finding) { return percent_text(worst_share(part, finding)); };
    for (const SingleChange& change : study.changes)
        text += "  " + change_text(part, space, study.plan.order, change) + ": " +
                points_text(change.after.finding.points_lost) + " points lost instead of " +
                points_text(study.plan.finding.points_lost) + ", worst gauge at " +
                share_of_limit(change.after.finding) + " of its limit instead of " +
                share_of_limit(study.plan.finding) + '\n';
    if (study.changes.empty())
        text += "  none of those tried\n";

    text += "\n" + std::to_string(study.found.tries) +
            (study.found.tried_all ? " orders tried, all there are: none is better; " : " orders searched, ") +
            units::number_text(study.rehearsals_per_s, 0) + " a second" +
            (study.cut_short ? "; stopped early: what was found until then" : "") + ".\n\n";
    if (study.out_of_reach)
        text += out_of_reach_text(*study.out_of_reach, space, static_cast<int>(study.sample.size()), proposed);
    TextTable finalists("lrrrrrrrrr");
    finalists.add({"order", "points lost", "worst gauge", "time", "hottest start", "turns", "set anew", "to remember",
                   "rehearsed", "keeps limits"});
    int number = 0;
    for (const order::Finalist& finalist : study.finalists) {
        number += finalist.origin == order::Finalist::Origin::found;
        std::vector<std::string> row{origin_text(finalist.origin, number)};
        const auto cells = finding_cells(part, finalist.simulated.value_or(finalist.rehearsed.finding));
        row.insert(row.end(), cells.begin(), cells.end());
        row.push_back(points_text(finalist.rehearsed.finding.points_lost));
        row.push_back(finalist.forgives ? percent_text(finalist.forgives->chance()) + " ± " +
                                              percent_text(finalist.forgives->standard_error())
                                        : "-");
        finalists.add(row);
    }
    text += finalists.text() + "\nworst gauge: of its limit. set anew: how often dials, wire or gas change between two "
                               "passes. rehearsed: points"
                               "\nlost by the quick estimate that the search used; all else is the full simulation. "
                               "keeps limits: chance with a"
                               "\nhand that scatters (settings, speed, fit-up, tacks).\n";

    if (study.found.front.size() > 1) {
        TextTable front("rrrr");
        front.add({"time", "worst gauge", "turns", "set anew"});
        for (const Candidate& candidate : study.found.front)
            front.add({units::duration_text(candidate.finding.total_s),
                       percent_text(order::worst_share(part, candidate.finding)),
                       std::to_string(candidate.finding.turns), std::to_string(candidate.finding.setup_changes)});
        text += "\nWhat time buys (rehearsed):\n" + front.text();
    }
    if (!study.finalists.empty())
        text += "\nThe order at the top:\n" +
                order_text(part, space.plan(study.finalists.front().rehearsed.order), units::System::metric);
    return text;
}

std::string cards_text(const weld::Plan& plan) {
    constexpr units::System system = units::System::metric;
    TextTable table("llrrrr");
    table.add({"card", "wire and gas", "volts", "wire feed", "travel", "tip"});
    for (const arc::SettingCard& card : plan.cards)
        table.add({card.name, card.gas.empty() ? card.wire : card.wire + ", " + card.gas,
                   units::number_text(card.volts_v, 1) + " V", units::wire_feed_text(card.wire_feed_m_per_s, system),
                   units::travel_text(card.travel_m_per_s, system),
                   units::quantity_text(card.tip_distance_m, units::length, system)});
    return table.text();
}

std::string study_json(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study,
                       const std::optional<ProposedReach>& proposed) {
    const part::Part& part = *exercise.part;
    const order::OrderSpace space(exercise.part, plan);
    nlohmann::json json{{"exercise", exercise.title},
                        {"plan", {{"title", plan.title}, {"rehearsed", finding_json(part, study.plan.finding)}}},
                        {"tries", study.found.tries},
                        {"rehearsals_per_s", study.rehearsals_per_s},
                        {"cut_short", study.cut_short}};
    json["standing"] = {{"random_orders", study.sample.size()},
                        {"points_beat", study.standing.points_beat},
                        {"gauge_beats", study.standing.gauge_beats}};
    json["sample"] = nlohmann::json::array();
    for (const Candidate& candidate : study.sample)
        json["sample"].push_back(finding_json(part, candidate.finding));
    json["tried_all"] = study.found.tried_all;
    if (const auto& reach = study.out_of_reach) {
        json["out_of_reach"] = {{"proved", reach->tried_all},
                                {"nearest_shares", reach->nearest},
                                {"random_shares_5_to_95_percent", {reach->random_low, reach->random_high}},
                                {"most_random_within", reach->most_random_within},
                                {"cards_decide", reach->cards_decide()}};
        if (proposed)
            json["out_of_reach"]["nearest_share_with_proposed_cards"] = proposed->nearest;
    }
    json["changes"] = nlohmann::json::array();
    for (const SingleChange& change : study.changes)
        json["changes"].push_back({{"what", change_text(part, space, study.plan.order, change)},
                                   {"after", finding_json(part, change.after.finding)}});
    json["front"] = nlohmann::json::array();
    for (const Candidate& candidate : study.found.front)
        json["front"].push_back(finding_json(part, candidate.finding));
    json["finalists"] = nlohmann::json::array();
    int number = 0;
    for (const order::Finalist& finalist : study.finalists) {
        number += finalist.origin == order::Finalist::Origin::found;
        nlohmann::json one{{"origin", origin_text(finalist.origin, number)},
                           {"order", order_json(part, space, finalist.rehearsed.order)},
                           {"rehearsed", finding_json(part, finalist.rehearsed.finding)},
                           {"rehearsed_cost", finalist.rehearsed.cost}};
        if (finalist.simulated) {
            one["simulated"] = finding_json(part, *finalist.simulated);
            one["cost"] = finalist.cost;
        }
        if (finalist.forgives)
            one["keeps_limits"] = {{"trials", finalist.forgives->trials},
                                   {"within", finalist.forgives->within},
                                   {"mean", finalist.forgives->mean},
                                   {"spread", finalist.forgives->spread}};
        json["finalists"].push_back(std::move(one));
    }
    return json.dump(1) + "\n";
}

} // namespace holdtrue::command_line
