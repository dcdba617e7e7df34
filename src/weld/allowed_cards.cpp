#include "weld/allowed_cards.h"

#include "arc/dial_fault.h"
#include "arc/process_words.h"
#include "arc/whole_card.h"
#include "arc/window_search.h"
#include "text/verify.h"
#include "units/units.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

namespace holdtrue::weld {
namespace {

// Cards that give the part the same, as far as a hand keeps to them.
using Likeness = std::tuple<int, int, int>;
Likeness likeness(const arc::ArcFigures& figures, double travel_m_per_s) {
    const auto step = [](double value, double share) {
        return static_cast<int>(std::lround(std::log(std::max(value, 1e-12)) / std::log1p(share)));
    };
    return {step(figures.heat_input_j_per_m, 0.06), step(figures.deposit_area_m2, 0.06), step(travel_m_per_s, 0.12)};
}

} // namespace

arc::SettingCard as_set(arc::SettingCard card, const arc::Shop& shop) {
    const arc::PowerSource& source = shop.sources.front();
    const units::Unit &feed = units::wire_feed.units.front(), &travel = units::travel.units[1]; // m/min, mm/min
    const double feed_m_per_min = std::round(10 * feed.from_si(card.wire_feed_m_per_s)) / 10;
    card.volts_v = arc::settable_volts_v(source, std::round(10 * card.volts_v) / 10);
    card.wire_feed_m_per_s = arc::settable_feed_m_per_s(source, feed.to_si(feed_m_per_min));
    card.travel_m_per_s = travel.to_si(5 * std::round(travel.from_si(card.travel_m_per_s) / 5));
    return card;
}

std::vector<arc::Section> sections_of(const part::Part& part, const std::vector<std::string>& groups) {
    std::vector<arc::Section> sections;
    for (const part::Joint& joint : part.joints)
        if (std::ranges::find(groups, joint.card_group) != groups.end())
            if (const arc::Section section = arc::section_of(part, joint);
                std::ranges::find(sections, section) == sections.end())
                sections.push_back(section);
    return sections;
}

bool breaks_a_rule(const arc::RuleBook& rules, const arc::SettingCard& card, const arc::Shop& shop,
                   const std::vector<arc::Section>& sections) {
    return arc::tally(rules, card, shop, sections).fails > 0;
}

std::vector<arc::SettingCard> allowed_cards(const part::Part& part, const arc::Shop& shop, const arc::RuleBook& rules,
                                            const arc::SettingCard& like) {
    const std::vector<arc::Section> sections = sections_of(part, like.groups);
    VERIFY(!sections.empty(), "the card serves joints of the part");
    const arc::Tally own = arc::tally(rules, like, shop, sections);
    int cautions = own.fails == 0 ? own.cautions : std::numeric_limits<int>::max();

    struct Allowed {
        arc::SettingCard card;
        double heat_j_per_m, score;
        int cautions;
    };
    std::map<Likeness, Allowed> best;
    const auto consider = [&](const arc::SettingCard& card, double score) {
        const arc::Tally found = arc::tally(rules, card, shop, sections);
        if (found.fails > 0 || found.cautions > cautions)
            return;
        if (own.fails > 0)
            cautions = found.cautions;
        const arc::ArcFigures figures = arc::arc_figures(card, shop, sections.front());
        const Allowed allowed{card, figures.heat_input_j_per_m, score, found.cautions};
        const auto [known, is_first] = best.try_emplace(likeness(figures, card.travel_m_per_s), allowed);
        if (!is_first && std::tie(found.cautions, score) < std::tie(known->second.cautions, known->second.score))
            known->second = allowed;
    };
    for (const arc::Wire& wire : shop.wires)
        for (std::size_t g = 0; g < std::max<std::size_t>(1, shop.gases.size()); ++g) {
            if (wire.process != like.process || (!arc::needs_gas(like.process) && g > 0))
                continue;
            arc::SettingCard card = like;
            card.wire = wire.id;
            if (arc::needs_gas(like.process) && !shop.gases.empty())
                card.gas = shop.gases[g].id;
            for (const arc::Section& section : sections) {
                card.tip_distance_m = arc::usual_tip_distance_m(card.process, arc::governing_thickness_m(section),
                                                                arc::find_gas(shop, card));
                const arc::WindowSearch search(rules, card, shop, section, {}, units::System::metric);
                for (const arc::SettingPoint& point : search.grid())
                    consider(as_set(search.card_at(point), shop), search.rate(point).score);
            }
        }
    std::vector<Allowed> all;
    for (auto& [alike, allowed] : best)
        if (allowed.cautions <= cautions)
            all.push_back(std::move(allowed));
    std::ranges::stable_sort(all, {}, &Allowed::heat_j_per_m);
    std::vector<arc::SettingCard> cards;
    for (Allowed& allowed : all)
        cards.push_back(std::move(allowed.card));
    return cards;
}

} // namespace holdtrue::weld
