// What a finding tells to change: one thing that a person can set, to a step that a person can set it to. The target
// is where the rule's own arithmetic meets its limit; settle() looks for the nearest step at which the rule, judged
// anew, is met.
#pragma once

#include "arc/arc.h"
#include "text/sentence.h"
#include "units/quantity_text.h"

#include <functional>
#include <optional>
#include <string>

namespace holdtrue::arc {

enum class Adjustable {
    // on the setting card
    wire_feed,
    volts,
    current,
    travel,
    tip_distance,
    gas_flow,
    preheat,
    aim,
    plug_time,
    // in the drawing or the fit-up
    hole,
    leg_asked,
    plug_spacing,
    tack_length,
    tack_spacing,
    gap,
    groove_angle,
    root_face,
    bared,
    weld_length,
};

struct Setting {
    Adjustable what = Adjustable::wire_feed;
    double value = 0; // SI; aim: a share
};
double value_of(Adjustable what, const SettingCard& card, const Section& section);
void put(const Setting& setting, SettingCard& card, Section& section);

// As an evaluator asks for it.
struct Remedy {
    Remedy() = default;
    Remedy(text::Sentence only_words) : words(std::move(only_words)) {} // "take a thicker wire"
    Remedy(text::Wording only_words) : words(only_words) {}
    Remedy(Adjustable adjustable, double target_si) : what(adjustable), target(target_si) {}
    Remedy or_else(text::Sentence other) && {
        words = std::move(other);
        return std::move(*this);
    }
    Remedy and_also(text::Sentence more) && {
        words = std::move(more);
        both = true;
        return std::move(*this);
    }

    std::optional<Adjustable> what;
    double target = 0;    // SI
    text::Sentence words; // alone, or what else will do
    bool both = false;    // the words are to be done besides the setting, not instead
};

// The setting nearest to what is set now, at or beyond it towards the target, in steps of the trade (0.1 m/min, 0.5 V,
// 10 mm/min ..., finer ones where no such step will do; not less than half of those beyond it, which a rounded figure
// would hide, where more will do as well), within what card and source can be set to, for which `met`
// holds; failing that, one on the other side. nullopt: there is none.
std::optional<Setting> settle(const Remedy& change, const SettingCard& card, const Shop& shop, const Section& section,
                              units::System system, const std::function<bool(const Setting&)>& met);

// "raise the wire feed from 5.2 to 6.4 m/min (dial mark 45)"
text::Sentence in_words(const Setting& setting, const SettingCard& card, const Shop& shop, const Section& section,
                        units::System system);
// "the wire feed"
text::Wording name_of(Adjustable what);

} // namespace holdtrue::arc
