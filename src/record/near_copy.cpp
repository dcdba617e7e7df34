#include "record/near_copy.h"

#include "units/quantity_text.h"

#include <algorithm>
#include <set>
#include <utility>
#include <vector>

namespace holdtrue::record {
namespace {

using text::Sentence;
using text::worded;

std::vector<weld::WeldPass> welds_of(const weld::Plan& plan) {
    std::vector<weld::WeldPass> welds;
    for (const weld::Move& move : plan.moves)
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what))
            welds.push_back(*weld);
    return welds;
}

bool same_place(const weld::WeldPass& a, const weld::WeldPass& b) {
    return a.pass == b.pass && a.reversed == b.reversed;
}

std::vector<bool> choices(const std::vector<weld::WeldPass>& order) {
    std::vector<bool> chosen(order.size(), false);
    const auto step = [&](std::size_t k) { return std::pair(order[k].pass - order[k - 1].pass, order[k].reversed); };
    for (std::size_t k = 1; k < order.size(); ++k)
        chosen[k] = !(k > 1 && step(k) == step(k - 1)) && !(k > 2 && step(k) == step(k - 2));
    return chosen;
}

// How two orders are alike: at their beginnings and at their ends.
struct Alike {
    std::size_t begin = 0, end = 0;
    Alike(const std::vector<weld::WeldPass>& a, const std::vector<weld::WeldPass>& b) {
        const std::size_t shorter = std::min(a.size(), b.size());
        while (begin < shorter && same_place(a[begin], b[begin]))
            ++begin;
        while (end < shorter - begin && same_place(a[a.size() - 1 - end], b[b.size() - 1 - end]))
            ++end;
    }
};

class Comparison {
public:
    Comparison(const weld::Plan& first, const weld::Plan& plan) : first_(first), plan_(plan) {}

    void compare_order(const std::vector<weld::WeldPass>& welds, const std::vector<weld::WeldPass>& others,
                       const Alike& alike) {
        whole_ = alike.begin == welds.size() && alike.begin == others.size();
        if (!whole_) {
            const std::size_t last = std::max(others.size() - alike.end, alike.begin + 1);
            const std::string from = std::to_string(alike.begin + 1);
            add(last == alike.begin + 1
                    ? Sentence(worded("pass {0} of the order"), {from})
                    : Sentence(worded("passes {0} to {1} of the order"), {from, std::to_string(last)}));
        }
    }

    void compare_waits() {
        const auto waits = placed<weld::Wait>(first_), others = placed<weld::Wait>(plan_);
        if (waits.size() != others.size()) {
            add({worded("number of waits: {0}, {1}"), {std::to_string(waits.size()), std::to_string(others.size())}});
            return;
        }
        for (std::size_t k = 0; k < waits.size(); ++k) {
            const std::string number = std::to_string(k + 1);
            if (!(waits[k].second == others[k].second))
                add({worded("wait {0}: {1}, {2}"), {number, words(waits[k].second), words(others[k].second)}});
            else if (whole_ && waits[k].first != others[k].first)
                add({worded("where wait {0} stands"), {number}});
        }
    }

    void compare_handling() {
        if (!same_placed<weld::Turn>())
            add(worded("when the part is turned"));
        if (!same_placed<weld::ClampMove>())
            add(worded("when clamps are fixed and freed"));
    }

    // Of the passes in both orders, cards that stand in for each other.
    void compare_cards(const std::vector<weld::WeldPass>& welds, const std::vector<weld::WeldPass>& others,
                       const Alike& alike) {
        std::set<std::pair<int, int>> pairs;
        for (std::size_t k = 0; k < alike.begin; ++k)
            pairs.emplace(welds[k].card, others[k].card);
        for (std::size_t k = 1; k <= alike.end; ++k)
            pairs.emplace(welds[welds.size() - k].card, others[others.size() - k].card);
        for (const auto& [a, b] : pairs)
            compare_card(first_.cards[static_cast<std::size_t>(a)], plan_.cards[static_cast<std::size_t>(b)]);
    }

    void compare_predictions() {
        const auto sorted = [](const weld::Plan& plan) {
            std::vector<std::pair<int, weld::Sense>> all;
            for (const weld::Prediction& prediction : plan.predictions)
                all.emplace_back(prediction.gauge, prediction.sense);
            std::ranges::sort(all);
            return all;
        };
        if (sorted(first_) != sorted(plan_))
            add(worded("predictions"));
    }

    NearCopy told(const std::string& name) const {
        constexpr std::size_t told_at_most = 3;
        if (differences_.empty())
            return {0, {worded("same order and settings as {0}; only names differ"), {name}}};
        Sentence list = differences_.front();
        for (std::size_t k = 1; k < std::min(differences_.size(), told_at_most); ++k)
            list = Sentence(worded("{0}; {1}"), {std::move(list), differences_[k]});
        const int count = static_cast<int>(differences_.size());
        if (differences_.size() <= told_at_most)
            return {count, {worded("same order as {0}; only this differs: {1}"), {name, std::move(list)}}};
        return {count,
                {worded("same order as {0}; {1} things differ, the first of them: {2}"),
                 {name, std::to_string(count), std::move(list)}}};
    }

private:
    // Every move of a kind, with how many passes are welded before it.
    template <class Kind>
    static std::vector<std::pair<int, Kind>> placed(const weld::Plan& plan) {
        std::vector<std::pair<int, Kind>> all;
        int welded = 0;
        for (const weld::Move& move : plan.moves) {
            welded += std::holds_alternative<weld::WeldPass>(move.what);
            if (const auto* kind = std::get_if<Kind>(&move.what))
                all.emplace_back(welded, *kind);
        }
        return all;
    }

    template <class Kind>
    bool same_placed() const {
        return std::ranges::equal(placed<Kind>(first_), placed<Kind>(plan_), [this](const auto& a, const auto& b) {
            return a.second == b.second && (!whole_ || a.first == b.first);
        });
    }

    static Sentence words(const weld::Wait& wait) {
        const Sentence below = wait.until_below_k
                                   ? Sentence(worded("until below {0}"), {units::temperature_text(*wait.until_below_k)})
                                   : Sentence();
        if (below.empty())
            return units::duration_text(wait.time_s);
        return wait.time_s > 0 ? Sentence(worded("{0} and {1}"), {units::duration_text(wait.time_s), below}) : below;
    }

    void compare_card(const arc::SettingCard& a, const arc::SettingCard& b) {
        const auto differ = [&](Sentence what, const std::string& in_a, const std::string& in_b) {
            if (in_a == in_b)
                add({worded("{0} of card '{1}'"), {std::move(what), a.name}});
            else
                add({worded("{0} of card '{1}': {2}, {3}"), {std::move(what), a.name, in_a, in_b}});
        };
        const auto compare = [&](Sentence what, auto arc::SettingCard::*field, const auto& text) {
            if (a.*field != b.*field)
                differ(std::move(what), text(a.*field), text(b.*field));
        };
        const auto plain = [](const std::string& id) { return id; };
        const auto unsaid = [](auto) { return std::string(); };
        compare(worded("process"), &arc::SettingCard::process, unsaid);
        compare(worded("wire"), &arc::SettingCard::wire, plain);
        compare(worded("gas"), &arc::SettingCard::gas, plain);
        compare(worded("gas flow"), &arc::SettingCard::gas_flow_m3_per_s, [](double q) { return units::flow_text(q); });
        compare(worded("polarity"), &arc::SettingCard::polarity, unsaid);
        compare(worded("volts"), &arc::SettingCard::volts_v, [](double v) { return units::number_text(v, 1) + " V"; });
        compare(worded("wire feed"), &arc::SettingCard::wire_feed_m_per_s,
                [](double v) { return units::wire_feed_text(v); });
        compare(worded("current"), &arc::SettingCard::current_a,
                [](double i) { return units::number_text(i, 0) + " A"; });
        compare(worded("travel"), &arc::SettingCard::travel_m_per_s, [](double v) { return units::travel_text(v); });
        compare(worded("tip distance"), &arc::SettingCard::tip_distance_m,
                [](double m) { return units::length_text(m); });
        compare(worded("push or drag"), &arc::SettingCard::motion, unsaid);
        compare(worded("aim"), &arc::SettingCard::aim, [](double share) { return units::number_text(share, 2); });
        compare(worded("preheat"), &arc::SettingCard::preheat_k,
                [](double k) { return k > 0 ? units::temperature_text(k) : std::string("-"); });
        compare(worded("time in a plug"), &arc::SettingCard::plug_s, [](double s) { return units::duration_text(s); });
    }

    void add(Sentence difference) {
        if (std::ranges::find(differences_, difference) == differences_.end())
            differences_.push_back(std::move(difference));
    }

    const weld::Plan &first_, &plan_;
    bool whole_ = true; // the orders are the same from beginning to end
    std::vector<Sentence> differences_;
};

} // namespace

int choices_in(const weld::Plan& plan) { return static_cast<int>(std::ranges::count(choices(welds_of(plan)), true)); }

std::optional<NearCopy> near_copy(const weld::Plan& first, const std::string& name, const weld::Plan& plan) {
    const std::vector<weld::WeldPass> welds = welds_of(first), others = welds_of(plan);
    const Alike alike(welds, others);
    const std::vector<bool> chosen = choices(welds);
    const auto count = [](auto from, auto to) { return std::count(from, to, true); };
    const auto begin = static_cast<std::ptrdiff_t>(alike.begin), end = static_cast<std::ptrdiff_t>(alike.end);
    if (static_cast<double>(alike.begin + alike.end) <
            alike_share * static_cast<double>(std::max(welds.size(), others.size())) ||
        count(chosen.begin(), chosen.begin() + begin) + count(chosen.end() - end, chosen.end()) < telling_choices)
        return {};
    Comparison comparison(first, plan);
    comparison.compare_order(welds, others, alike);
    comparison.compare_waits();
    comparison.compare_handling();
    comparison.compare_cards(welds, others, alike);
    comparison.compare_predictions();
    return comparison.told(name);
}

} // namespace holdtrue::record
