#include "app/session/seen_outcomes.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace holdtrue::app {

namespace {

// What was put back by hand went through other units, and may differ in its last digit.
bool same_value(double a, double b) { return std::abs(a - b) <= 1e-9 * std::max(std::abs(a), std::abs(b)); }

// Its name and what else it serves change nothing of a weld.
bool same_setting(const arc::SettingCard& a, const arc::SettingCard& b) {
    using Card = arc::SettingCard;
    const auto chosen = [](const Card& card) {
        return std::tie(card.process, card.wire, card.gas, card.polarity, card.motion);
    };
    return chosen(a) == chosen(b) &&
           std::ranges::all_of(std::initializer_list<double Card::*>{&Card::gas_flow_m3_per_s, &Card::volts_v,
                                                                     &Card::wire_feed_m_per_s, &Card::current_a,
                                                                     &Card::travel_m_per_s, &Card::tip_distance_m,
                                                                     &Card::aim, &Card::preheat_k, &Card::plug_s},
                               [&](double Card::*value) { return same_value(a.*value, b.*value); });
}

bool same_wait(const weld::Wait& a, const weld::Wait& b) {
    return same_value(a.time_s, b.time_s) && a.until_below_k.has_value() == b.until_below_k.has_value() &&
           same_value(a.until_below_k.value_or(0), b.until_below_k.value_or(0));
}

bool same_work(const weld::Plan& a, const weld::Plan& b) {
    const auto same_move = [&](const weld::Move& move, const weld::Move& other) {
        if (move.what.index() != other.what.index())
            return false;
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what)) {
            const auto& also = std::get<weld::WeldPass>(other.what);
            return weld->pass == also.pass && weld->reversed == also.reversed &&
                   same_setting(a.cards[static_cast<std::size_t>(weld->card)],
                                b.cards[static_cast<std::size_t>(also.card)]);
        }
        if (const auto* wait = std::get_if<weld::Wait>(&move.what))
            return same_wait(*wait, std::get<weld::Wait>(other.what));
        return move.what == other.what;
    };
    return std::ranges::equal(a.moves, b.moves, same_move);
}

} // namespace

void SeenOutcomes::add(const std::string& trainee, const grading::Exercise& exercise, const weld::Plan& plan) {
    if (!predictions(trainee, exercise, plan))
        seen_.push_back({trainee, exercise.file, exercise.variant, plan});
}

const std::vector<weld::Prediction>*
SeenOutcomes::predictions(const std::string& trainee, const grading::Exercise& exercise, const weld::Plan& plan) const {
    const auto found = std::ranges::find_if(seen_, [&](const Seen& seen) {
        return seen.trainee == trainee && seen.exercise == exercise.file && seen.variant == exercise.variant &&
               same_work(seen.plan, plan);
    });
    return found == seen_.end() ? nullptr : &found->plan.predictions;
}

void SeenOutcomes::give_name(const std::string& trainee) {
    for (Seen& seen : seen_)
        if (seen.trainee.empty())
            seen.trainee = trainee;
}

void SeenOutcomes::forget(const std::filesystem::path& exercise) {
    std::erase_if(seen_, [&](const Seen& seen) { return seen.exercise == exercise; });
}

} // namespace holdtrue::app
