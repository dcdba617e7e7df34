// Setting cards with which some order keeps the limits, for a part that nobody has set up yet.
//
// The search begins with the cards that the rule book proposes and looks for the order that comes nearest to the limits
// with them. Where even that is not near enough, each card in turn gives way to others that the rules allow
// (weld/allowed_cards.h), all welded in that one order and simulated in full, about a second each: which card pulls
// least depends far less on the order than the order's own part does. The best few then get a search over orders each,
// and that decides.
#pragma once

#include "order/study.h"
#include "weld/starting_plan.h"

#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace holdtrue::order {

struct CardTrial {
    arc::SettingCard card;
    double worst = 0; // gauge's share of its limit, simulated in full
};
// Other settings for one card of a proposed plan, its own among them, best first; only those that were tried. First
// some that lie far apart in heat per length, metal laid and travel (by logarithm), then the neighbours of the best, as
// long as one of them is better. Empty when stopped. Collective.
std::vector<CardTrial> try_cards(const grading::Exercise& exercise, const weld::Plan& plan, std::size_t card,
                                 const weld::Options& full, const parallel::Workers& workers,
                                 StudyProgress* progress = nullptr, std::stop_token stop = {});

struct CardChoice {
    weld::Plan plan;                            // the cards, in the order that comes nearest to the limits with them
    std::vector<std::string> unmet;             // as in weld::ProposedPlan
    std::unique_ptr<weld::Rehearsal> rehearsal; // of these cards
    // Worst gauge's share of its limit in the nearest order, rehearsed: with these cards, with those of the rule book.
    double nearest = 0, nearest_as_proposed = 0;
    int tried = 0; // settings simulated, those of the rule book too; 0: with those the limits are near enough
};
// `rehearse` prepares a rehearsal for the cards of a plan, the same on all ranks; null when stopped. A stop before the
// first search is through leaves no choice, one after it the best so far. `search`: an eighth of its tries, at least
// 100, goes to each search for the nearest order. Collective.
using Rehearse = std::function<std::unique_ptr<weld::Rehearsal>(const weld::Plan&)>;
std::optional<CardChoice> choose_cards(const grading::Exercise& exercise, const weld::ProposedPlan& proposed,
                                       const weld::Options& full, const Rehearse& rehearse, const SearchOptions& search,
                                       StudyProgress* progress = nullptr, std::stop_token stop = {});

} // namespace holdtrue::order
