#include "arc/whole_card.h"

#include "arc/dial_fault.h"
#include "arc/propose.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {
namespace {

using text::Sentence;
using text::worded;

SettingCard settable(SettingCard card, const Shop& shop) {
    if (shop.sources.empty())
        return card;
    card.volts_v = settable_volts_v(shop.sources.front(), card.volts_v);
    card.wire_feed_m_per_s = settable_feed_m_per_s(shop.sources.front(), card.wire_feed_m_per_s);
    return card;
}

// What stays open besides volts, feed and travel, from least to most.
struct Freedom {
    bool tip_and_aim, wire_and_gas;
};
constexpr Freedom freedoms[]{{false, false}, {true, false}, {true, true}};

SettingCard with_consumables(const RuleBook& book, SettingCard card, const Shop& shop, const Section& section,
                             const Freedom& freedom) {
    if (!freedom.tip_and_aim)
        return card;
    card.aim = usual_aim(section);
    return choose_consumables(book, card, shop, section, {}, {freedom.wire_and_gas, freedom.wire_and_gas, true});
}

} // namespace

Tally tally(const RuleBook& book, const SettingCard& card, const Shop& shop, const std::vector<Section>& sections) {
    Tally all;
    for (const Section& section : sections)
        for (const RuleBook::Judged& judged : book.verdicts(card, shop, section, setup_figures(card, shop, section))) {
            all.fails += judged.verdict == Verdict::fail;
            all.cautions += judged.verdict == Verdict::caution;
        }
    return all;
}

std::optional<WholeCard> whole_card(const RuleBook& book, const SettingCard& card, const Shop& shop,
                                    const std::vector<Section>& sections, units::System system) {
    std::vector<Section> kinds; // of which most joints of a part are
    for (const Section& section : sections)
        if (std::ranges::find(kinds, section) == kinds.end())
            kinds.push_back(section);
    std::optional<WholeCard> best;
    for (const Freedom& freedom : freedoms) {
        if (best && (best->cautions == 0 || freedom.wire_and_gas))
            return best;
        for (const Section& section : kinds) {
            const std::optional<Window> window =
                window_of(book, with_consumables(book, card, shop, section, freedom), shop, section, {}, system);
            if (!window)
                continue;
            const SettingCard tried = settable(window->card, shop);
            const Tally found = tally(book, tried, shop, kinds);
            if (found.fails == 0 && (!best || found.cautions < best->cautions))
                best = WholeCard{tried, found.cautions};
            if (best && best->cautions == 0)
                break;
        }
    }
    return best;
}

text::Sentence changes_in_words(const SettingCard& from, const SettingCard& to, const Shop& shop,
                                const Section& section, units::System system) {
    Sentence words;
    const auto add = [&](Sentence more) {
        words = words.empty() ? std::move(more) : Sentence(worded("{0}, {1}"), {words, std::move(more)});
    };
    if (to.wire != from.wire)
        add({worded("take wire '{0}'"), {to.wire}});
    if (to.gas != from.gas)
        add({worded("take gas '{0}'"), {to.gas}});
    for (const Adjustable what : {Adjustable::wire_feed, Adjustable::current, Adjustable::volts, Adjustable::travel,
                                  Adjustable::tip_distance, Adjustable::aim}) {
        const double before = value_of(what, from, section), after = value_of(what, to, section);
        if (std::abs(after - before) > 1e-6 * std::max(std::abs(before), std::abs(after)))
            add(in_words({what, after}, from, shop, section, system));
    }
    return words;
}

} // namespace holdtrue::arc
