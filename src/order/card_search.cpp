#include "order/card_search.h"

#include "parallel/agree.h"
#include "weld/allowed_cards.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace holdtrue::order {
namespace {

constexpr double near_enough = 0.9; // of a limit: the full simulation may find a little more than the rehearsal
constexpr double endless = std::numeric_limits<double>::infinity();

using Place = std::array<double, 3>; // of a card among others: what the part feels of it

std::vector<Place> places_of(const std::vector<arc::SettingCard>& cards, const arc::Shop& shop,
                             const arc::Section& section) {
    std::vector<Place> places;
    for (const arc::SettingCard& card : cards) {
        const arc::ArcFigures figures = arc::arc_figures(card, shop, section);
        Place& place =
            places.emplace_back(Place{figures.heat_input_j_per_m, figures.deposit_area_m2, card.travel_m_per_s});
        for (double& value : place)
            value = std::log(std::max(value, 1e-12));
    }
    return places;
}

double distance(const Place& one, const Place& other) {
    return std::hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

// The first, and others each as far as possible from all before it.
std::vector<std::size_t> far_apart(const std::vector<Place>& places, std::size_t count) {
    std::vector<std::size_t> chosen{0};
    std::vector<double> gap(places.size(), endless); // to the nearest that is chosen
    while (chosen.size() < std::min(count, places.size())) {
        for (std::size_t k = 0; k < places.size(); ++k)
            gap[k] = std::min(gap[k], distance(places[k], places[chosen.back()]));
        chosen.push_back(static_cast<std::size_t>(std::ranges::max_element(gap) - gap.begin()));
    }
    return chosen;
}

std::vector<std::size_t> neighbours(const std::vector<Place>& places, std::size_t of, std::size_t count) {
    std::vector<std::size_t> others;
    for (std::size_t k = 0; k < places.size(); ++k)
        if (k != of)
            others.push_back(k);
    std::ranges::stable_sort(others, {}, [&](std::size_t k) { return distance(places[k], places[of]); });
    others.resize(std::min(count, others.size()));
    return others;
}

double simulated_worst(const grading::Exercise& exercise, const weld::Plan& plan, const weld::Options& full,
                       std::stop_token stop) {
    const auto outcome = weld::simulate(exercise.part, exercise.shop, plan, weld::for_marks(full), nullptr, stop);
    if (outcome->status != weld::Status::finished)
        return endless;
    const OrderSpace space(exercise.part, plan);
    return worst_share(*exercise.part, finding_of(exercise, space, space.order_of(plan), *outcome));
}

} // namespace

std::vector<CardTrial> try_cards(const grading::Exercise& exercise, const weld::Plan& plan, std::size_t card,
                                 const weld::Options& full, const parallel::Workers& workers, StudyProgress* progress,
                                 std::stop_token stop) {
    constexpr std::size_t first = 12, nearest = 6;
    const arc::SettingCard& own = plan.cards[card];
    std::vector<arc::SettingCard> cards = weld::allowed_cards(*exercise.part, *exercise.shop, *exercise.rules, own);
    cards.insert(cards.begin(), own);
    const std::vector<Place> places =
        places_of(cards, *exercise.shop, weld::sections_of(*exercise.part, own.groups).front());
    std::vector<double> worst(cards.size(), endless);
    std::vector<bool> is_tried(cards.size(), false);

    std::vector<std::size_t> next = far_apart(places, first);
    while (!next.empty()) {
        const int count = static_cast<int>(next.size());
        SearchProgress* done = begin_stage(progress, StudyProgress::Stage::cards, count, workers);
        const std::vector<double> found = parallel::gather(workers, count, [&](int k) {
            weld::Plan tried = plan;
            tried.cards[card] = cards[next[static_cast<std::size_t>(k)]];
            const double share = simulated_worst(exercise, tried, full, stop);
            if (done)
                ++done->tries;
            return share;
        });
        if (parallel::any(workers, stop.stop_requested()))
            return {};
        for (std::size_t k = 0; k < next.size(); ++k) {
            worst[next[k]] = found[k];
            is_tried[next[k]] = true;
        }
        const auto best = static_cast<std::size_t>(std::ranges::min_element(worst) - worst.begin());
        next = neighbours(places, best, nearest);
        std::erase_if(next, [&](std::size_t k) { return is_tried[k]; });
    }
    std::vector<CardTrial> trials;
    for (std::size_t k = 0; k < cards.size(); ++k)
        if (is_tried[k])
            trials.push_back({cards[k], worst[k]});
    std::ranges::stable_sort(trials, {}, &CardTrial::worst);
    return trials;
}

namespace {

struct TriedPlan {
    weld::Plan plan;
    double worst = 0; // as in CardTrial
};

// A plan with other cards, best first: each card in turn, those before it the best of theirs.
std::vector<TriedPlan> exchange_cards(const grading::Exercise& exercise, weld::Plan plan, const weld::Options& full,
                                      const parallel::Workers& workers, StudyProgress* progress, std::stop_token stop) {
    std::vector<TriedPlan> all;
    for (std::size_t card = 0; card < plan.cards.size(); ++card) {
        const std::vector<CardTrial> trials = try_cards(exercise, plan, card, full, workers, progress, stop);
        if (trials.empty())
            break;
        for (const CardTrial& trial : trials) {
            plan.cards[card] = trial.card;
            all.push_back({plan, trial.worst});
        }
        plan.cards[card] = trials.front().card;
    }
    std::ranges::stable_sort(all, {}, &TriedPlan::worst);
    return all;
}

} // namespace

std::optional<CardChoice> choose_cards(const grading::Exercise& exercise, const weld::ProposedPlan& proposed,
                                       const weld::Options& full, const Rehearse& rehearse, const SearchOptions& search,
                                       StudyProgress* progress, std::stop_token stop) {
    constexpr std::size_t finalists = 3;
    SearchOptions short_search = search;
    short_search.tries = std::max(200, search.tries / 4); // of which nearest_to_limits() takes half

    // The order nearest to the limits with the cards of a plan.
    const auto nearest_with = [&](const weld::Plan& plan) -> std::optional<CardChoice> {
        CardChoice choice;
        choice.rehearsal = rehearse(plan);
        if (!choice.rehearsal)
            return {};
        const OrderSpace space(exercise.part, plan);
        SearchOptions options = short_search;
        options.starts = {space.order_of(plan)};
        const SearchResult found = nearest_to_limits(exercise, space, *choice.rehearsal, options, progress, stop);
        if (found.leaders.empty())
            return {};
        choice.plan = space.plan(found.leaders.front().order);
        choice.nearest = found.leaders.front().cost;
        return choice;
    };

    std::optional<CardChoice> best = nearest_with(proposed.plan);
    if (!best)
        return {};
    const double nearest_as_proposed = best->nearest;
    std::vector<TriedPlan> tried;
    if (best->nearest > near_enough)
        tried = exchange_cards(exercise, best->plan, full, search.workers(), progress, stop);
    for (std::size_t k = 0; k < std::min(finalists, tried.size()); ++k)
        if (std::optional<CardChoice> choice = nearest_with(tried[k].plan); choice && choice->nearest < best->nearest)
            best = std::move(choice);
    best->plan.title = "Settings by the rule book, in the order found nearest to the limits";
    best->unmet = proposed.unmet;
    best->nearest_as_proposed = nearest_as_proposed;
    best->tried = static_cast<int>(tried.size());
    return best;
}

} // namespace holdtrue::order
