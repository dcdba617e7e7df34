#include "arc/remedy.h"

#include "arc/dial_fault.h"
#include "arc/power_source.h"
#include "text/verify.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace holdtrue::arc {
namespace {

using text::worded;
using units::litre_per_minute;
using units::mm;

struct Steps {
    double usual, fine; // in the workshop unit
};

// Steps: what hands set and shops write on cards; common practice, no source. Ranges: what a plan may say.
struct Kind {
    Adjustable what;
    text::Wording name;
    const units::Dimension* dimension; // null: a plain number
    Steps metric, imperial;
    double low, high; // SI
    bool on_card;
};

constexpr auto kinds = [] {
    using enum Adjustable;
    return std::array{
        Kind{wire_feed, worded("the wire feed"), &units::wire_feed, {0.1, 0.1}, {5, 1}, 0.3 / 60, 0.5, true},
        Kind{volts, worded("the volts"), &units::voltage, {0.5, 0.1}, {0.5, 0.1}, 8, 50, true},
        Kind{current, worded("the current"), &units::current, {5, 1}, {5, 1}, 5, 700, true},
        Kind{travel,
             worded("the travel speed"),
             &units::travel,
             {10, 5},
             {0.5, 0.1},
             20 * mm / 60,
             3000 * mm / 60,
             true},
        Kind{tip_distance, worded("the tip distance"), &units::length, {1, 0.5}, {0.05, 0.01}, 3 * mm, 50 * mm, true},
        Kind{gas_flow,
             worded("the gas flow"),
             &units::flow,
             {1, 0.5},
             {1, 0.5},
             litre_per_minute,
             40 * litre_per_minute,
             true},
        Kind{preheat, worded("the preheat"), &units::temperature, {5, 1}, {10, 1}, 293.15, 573.15, true},
        Kind{aim, worded("the share of the arc on the first member"), nullptr, {0.05, 0.01}, {0.05, 0.01}, 0, 1, true},
        Kind{plug_time, worded("the arc's time in each plug"), &units::time, {0.5, 0.1}, {0.5, 0.1}, 0.1, 120, true},
        Kind{hole, worded("the hole"), &units::length, {0.5, 0.1}, {0.02, 0.005}, 4 * mm, 60 * mm, false},
        Kind{leg_asked, worded("the leg asked for"), &units::length, {0.5, 0.1}, {0.02, 0.005}, mm, 60 * mm, false},
        Kind{plug_spacing, worded("the distance between plugs"), &units::length, {5, 1}, {0.25, 0.05}, mm, 5, false},
        Kind{tack_length, worded("each tack"), &units::length, {1, 0.5}, {0.05, 0.01}, mm, 0.5, false},
        Kind{tack_spacing, worded("the distance between tacks"), &units::length, {5, 1}, {0.25, 0.05}, mm, 5, false},
        Kind{gap, worded("the gap"), &units::length, {0.5, 0.1}, {0.02, 0.005}, 0, 10 * mm, false},
        Kind{groove_angle, worded("the included angle"), &units::angle, {5, 1}, {5, 1}, 0.01, 3.1, false},
        Kind{root_face, worded("the root face"), &units::length, {0.5, 0.1}, {0.02, 0.005}, 0, 20 * mm, false},
        Kind{bared, worded("the bared width"), &units::length, {5, 1}, {0.25, 0.05}, mm, 0.5, false},
        Kind{weld_length, worded("the weld"), &units::length, {5, 1}, {0.25, 0.05}, mm, 100, false},
    };
}();

const Kind& kind_of(Adjustable what) {
    const auto found = std::ranges::find(kinds, what, &Kind::what);
    VERIFY(found != kinds.end(), "something adjustable has no steps");
    return *found;
}

constexpr units::Unit plain_number{"", 1, 0, ""};
const units::Unit& unit_of(const Kind& kind, units::System system) {
    return kind.dimension ? units::workshop_unit(*kind.dimension, system) : plain_number;
}

// The number as it is written down: free of what multiplying a step leaves behind it.
double at_step(double steps, double step) { return std::round(steps * step * 1e4) / 1e4; }

std::string step_text(double value) {
    std::string text = units::number_text(value, 3);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.')
        text.pop_back();
    return text;
}

bool can_be_set(const Kind& kind, double value, const Shop& shop) {
    constexpr double hair = 1e-9;
    if (value < kind.low - hair || value > kind.high + hair)
        return false;
    if (shop.sources.empty())
        return true;
    const PowerSource& source = shop.sources.front();
    if (kind.what == Adjustable::volts && source.volts_high_v > 0)
        return std::abs(settable_volts_v(source, value) - value) < hair;
    if (kind.what == Adjustable::wire_feed && source.feed_high_m_per_s > 0)
        return std::abs(settable_feed_m_per_s(source, value) - value) < hair;
    return true;
}

class Search {
public:
    Search(const Kind& kind, const units::Unit& unit, double step, const Shop& shop,
           const std::function<bool(const Setting&)>& met)
        : kind_(kind), unit_(unit), step_(step), shop_(shop), met_(met) {}

    // From the first step that is more than `least` beyond `from` on, towards up (+1) or down (-1): tried where the
    // target lies first, then beyond it step by step and at last in strides; then back to the first step that will do.
    std::optional<Setting> nearest(double from, double target, double way, double least) const {
        from += way * least;
        const double first = way > 0 ? std::floor(from / step_ + 1e-6) + 1 : std::ceil(from / step_ - 1e-6) - 1;
        const double there = way > 0 ? std::ceil(target / step_ - 1e-6) : std::floor(target / step_ + 1e-6);
        double failed = first - way, at = way * (there - first) > 0 ? there : first;
        double stride = 1;
        for (int tries = 0; !does(at); ++tries) {
            constexpr int single_steps = 10, most_tries = 18;
            if (tries == most_tries || !inside(at + way * stride))
                return std::nullopt;
            failed = at;
            at += way * stride;
            if (tries >= single_steps)
                stride *= 2;
        }
        while (way * (at - failed) > 1.5) {
            const double between = std::round((at + failed) / 2);
            (does(between) ? at : failed) = between;
        }
        return setting(at);
    }

private:
    Setting setting(double steps) const { return {kind_.what, unit_.to_si(at_step(steps, step_))}; }
    bool inside(double steps) const {
        const double value = setting(steps).value;
        return value >= kind_.low - step_ * unit_.scale && value <= kind_.high + step_ * unit_.scale;
    }
    bool does(double steps) const {
        const Setting tried = setting(steps);
        return can_be_set(kind_, tried.value, shop_) && met_(tried);
    }

    const Kind& kind_;
    const units::Unit& unit_;
    double step_;
    const Shop& shop_;
    const std::function<bool(const Setting&)>& met_;
};

} // namespace

double value_of(Adjustable what, const SettingCard& card, const Section& section) {
    switch (what) {
    case Adjustable::wire_feed:
        return card.wire_feed_m_per_s;
    case Adjustable::volts:
        return card.volts_v;
    case Adjustable::current:
        return card.current_a;
    case Adjustable::travel:
        return card.travel_m_per_s;
    case Adjustable::tip_distance:
        return card.tip_distance_m;
    case Adjustable::gas_flow:
        return card.gas_flow_m3_per_s;
    case Adjustable::preheat:
        return std::max(section.start_k, card.preheat_k);
    case Adjustable::aim:
        return card.aim;
    case Adjustable::plug_time:
        return card.plug_s;
    case Adjustable::hole:
    case Adjustable::leg_asked:
        return section.size_m;
    case Adjustable::plug_spacing:
        return section.plug_spacing_m.value_or(0);
    case Adjustable::tack_length:
        return section.tack_length_m.value_or(0);
    case Adjustable::tack_spacing:
        return section.tack_spacing_m.value_or(0);
    case Adjustable::gap:
        return section.root_gap_m;
    case Adjustable::groove_angle:
        return section.groove_angle_rad.value_or(0);
    case Adjustable::root_face:
        return section.root_face_m.value_or(0);
    case Adjustable::bared:
        return section.bared_m.value_or(0);
    case Adjustable::weld_length:
        return section.length_m;
    }
    return 0;
}

void put(const Setting& setting, SettingCard& card, Section& section) {
    switch (setting.what) {
    case Adjustable::wire_feed:
        card.wire_feed_m_per_s = setting.value;
        break;
    case Adjustable::volts:
        card.volts_v = setting.value;
        break;
    case Adjustable::current:
        card.current_a = setting.value;
        break;
    case Adjustable::travel:
        card.travel_m_per_s = setting.value;
        break;
    case Adjustable::tip_distance:
        card.tip_distance_m = setting.value;
        break;
    case Adjustable::gas_flow:
        card.gas_flow_m3_per_s = setting.value;
        break;
    case Adjustable::preheat:
        card.preheat_k = setting.value;
        break;
    case Adjustable::aim:
        card.aim = setting.value;
        break;
    case Adjustable::plug_time:
        card.plug_s = setting.value;
        break;
    case Adjustable::hole:
    case Adjustable::leg_asked:
        section.size_m = setting.value;
        break;
    case Adjustable::plug_spacing:
        section.plug_spacing_m = setting.value;
        break;
    case Adjustable::tack_length:
        section.tack_length_m = setting.value;
        break;
    case Adjustable::tack_spacing:
        section.tack_spacing_m = setting.value;
        break;
    case Adjustable::gap:
        section.root_gap_m = setting.value;
        break;
    case Adjustable::groove_angle:
        section.groove_angle_rad = setting.value;
        break;
    case Adjustable::root_face:
        section.root_face_m = setting.value;
        break;
    case Adjustable::bared:
        section.bared_m = setting.value;
        break;
    case Adjustable::weld_length:
        section.length_m = setting.value;
        break;
    }
}

std::optional<Setting> settle(const Remedy& change, const SettingCard& card, const Shop& shop, const Section& section,
                              units::System system, const std::function<bool(const Setting&)>& met) {
    VERIFY(change.what, "a change without a setting cannot be settled");
    const Kind& kind = kind_of(*change.what);
    const units::Unit& unit = unit_of(kind, system);
    const double from = unit.from_si(value_of(kind.what, card, section));
    const double target = unit.from_si(std::clamp(change.target, kind.low, kind.high));
    const Steps& steps = system == units::System::metric ? kind.metric : kind.imperial;
    const double way = target < from ? -1 : 1;
    for (const double towards : {way, -way})
        for (const double least : {steps.fine / 2, 0.0}) // a change that can be seen, if there is one
            for (const double step : {steps.usual, steps.fine})
                if (const auto found = Search(kind, unit, step, shop, met)
                                           .nearest(from, towards == way ? target : from, towards, least))
                    return found;
    return std::nullopt;
}

text::Sentence in_words(const Setting& setting, const SettingCard& card, const Shop& shop, const Section& section,
                        units::System system) {
    const Kind& kind = kind_of(setting.what);
    const units::Unit& unit = unit_of(kind, system);
    const double from_si = value_of(setting.what, card, section);
    const std::string to =
        step_text(unit.from_si(setting.value)) + (unit.label.empty() ? "" : " " + std::string(unit.label));
    if (setting.what == Adjustable::preheat && setting.value > from_si)
        return {worded("preheat to {0}"), {to}};
    if (!kind.on_card || from_si <= 0)
        return {kind.on_card ? worded("set {0} to {1}") : worded("make {0} {1}"), {kind.name, to}};
    const text::Sentence words(setting.value > from_si ? worded("raise {0} from {1} to {2}")
                                                       : worded("lower {0} from {1} to {2}"),
                               {kind.name, units::significant_text(unit.from_si(from_si)), to});
    if (shop.sources.empty())
        return words;
    const PowerSource& source = shop.sources.front();
    const std::optional<Dial>& dial = setting.what == Adjustable::volts ? source.volts_dial : source.feed_dial;
    if (dial && (setting.what == Adjustable::volts || setting.what == Adjustable::wire_feed))
        if (const auto mark = mark_if_measured(*dial, setting.value))
            return {worded("{0} (dial mark {1})"), {words, units::significant_text(*mark)}};
    return words;
}

text::Wording name_of(Adjustable what) { return kind_of(what).name; }

} // namespace holdtrue::arc
