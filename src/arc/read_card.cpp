#include "arc/read_card.h"

#include "arc/power_source.h"
#include "arc/process_words.h"
#include "text/names.h"
#include "units/quantity_text.h"

#include <algorithm>
#include <cmath>

namespace holdtrue::arc {
namespace {

using text::Sentence;
using text::Table;
using text::worded;
using units::mm;

Process read_process(Table& table, Process fallback) {
    if (!table.has("process")) {
        table.know({"process"});
        return fallback;
    }
    const std::string number = table.text("process");
    const std::optional<Process> process = process_by_number(number);
    if (!process)
        table.problem("process", {worded("there is no process \"{0}\""), {number}},
                      {worded("write its ISO 4063 number in quotes: {0}"), {text::one_of(process_numbers())}});
    return process.value_or(fallback);
}

// KEY_UNIT, or KEY_mark: a mark of the power source's dial, which the shop file maps to what it gives.
double read_set_value(Table& table, const std::string& key, const units::Dimension& dimension, text::Range range,
                      const std::optional<Dial>& dial) {
    const std::string mark_key = key + "_mark";
    if (!table.has(mark_key))
        return table.quantity(key, dimension, range);
    const double mark = table.number(mark_key);
    if (table.has_quantity(key, dimension))
        table.problem(mark_key, {worded("{0} is given both as a value and as a dial mark"), {key}},
                      worded("keep one of the two"));
    table.optional_quantity(key, dimension, range);
    if (!dial)
        table.problem(mark_key, {worded("the shop's power source has no measured dial for {0}"), {key}},
                      worded("measure it and add it to the shop file, or give the value itself"));
    else
        try {
            return value_at_mark(*dial, mark);
        } catch (const text::InputError& error) {
            table.problem(mark_key, error.problems().front().what, error.problems().front().fix);
        }
    return range.low;
}

} // namespace

SettingCard read_card(Table& table, const Shop& shop, const std::vector<std::string>& names_taken) {
    SettingCard card;
    card.line = table.line();
    card.name = text::read_name(table, worded("card"), names_taken);
    if (table.has("groups"))
        card.groups = table.one_or_more("groups");
    else
        table.know({"groups"});
    card.wire = table.text("wire");
    const auto wire = std::ranges::find(shop.wires, card.wire, &Wire::id);
    card.process = read_process(table, wire == shop.wires.end() ? Process::mag_135 : wire->process);
    card.gas = needs_gas(card.process) ? table.text("gas") : table.text("gas", "");
    card.gas_flow_m3_per_s = table.quantity("gas_flow", units::flow, {0, 40 * units::litre_per_minute},
                                            needs_gas(card.process) ? std::nullopt : std::optional(0.0));
    card.polarity = table.choice<Polarity>(
        "polarity",
        {{"electrode_positive", Polarity::electrode_positive}, {"electrode_negative", Polarity::electrode_negative}},
        Polarity::electrode_positive);
    const PowerSource source = shop.sources.empty() ? PowerSource{} : shop.sources.front();
    card.volts_v = read_set_value(table, "volts", units::voltage, {8, 50}, source.volts_dial);
    card.wire_feed_m_per_s =
        read_set_value(table, "wire_feed", units::wire_feed, {0.3 / 60, 30.0 / 60}, source.feed_dial);
    card.travel_m_per_s = table.quantity("travel", units::travel, {20 * mm / 60, 3000 * mm / 60});
    card.tip_distance_m = table.quantity("tip_distance", units::length, {3 * mm, 50 * mm});
    card.motion = table.choice<TorchMotion>("motion", {{"push", TorchMotion::push}, {"drag", TorchMotion::drag}},
                                            TorchMotion::push);
    card.aim = table.number("aim", {0, 1}, 0.5);
    card.preheat_k =
        table.optional_quantity("preheat", units::temperature, {units::celsius(20), units::celsius(300)}).value_or(0);
    card.plug_s = table.quantity("plug", units::time, {0, 120}, 0.0);
    return card;
}

std::vector<text::Problem> check_card(const SettingCard& card, const Shop& shop) {
    std::vector<text::Problem> problems;
    const auto problem = [&](Sentence what, Sentence fix) {
        problems.push_back({"",
                            card.line,
                            {worded("card {0}: {1}"), {Sentence::of_file(card.name), std::move(what)}},
                            std::move(fix)});
    };
    const auto how_to_name = [](const std::string& id, const std::vector<std::string>& known) -> Sentence {
        if (known.empty())
            return worded("add it to the shop file");
        return text::did_you_mean(id, known, {worded("it has {0}"), {text::one_of(known)}});
    };

    std::vector<std::string> wires, gases;
    for (const Wire& wire : shop.wires)
        wires.push_back(wire.id);
    for (const Gas& gas : shop.gases)
        gases.push_back(gas.id);
    const auto wire = std::ranges::find(shop.wires, card.wire, &Wire::id);
    if (wire == shop.wires.end())
        problem({worded("the shop has no wire \"{0}\""), {card.wire}}, how_to_name(card.wire, wires));
    else if (wire->process != card.process)
        problem({worded("wire {0} is for process {1} ({2}), not {3}"),
                 {wire->id, std::string(process_number(wire->process)), process_words(wire->process),
                  std::string(process_number(card.process))}},
                worded("correct process, or leave it out to take the wire's"));
    if (needs_gas(card.process) && std::ranges::find(gases, card.gas) == gases.end())
        problem({worded("the shop has no gas \"{0}\""), {card.gas}}, how_to_name(card.gas, gases));
    if (!needs_gas(card.process) && !card.gas.empty())
        problem(worded("self-shielded wire takes no gas"), worded("leave gas out"));
    if (shop.sources.empty())
        return problems;
    const PowerSource& source = shop.sources.front();
    constexpr double hair = 1e-9;
    const auto volts = [](double value_v) { return units::number_text(value_v, 1) + " V"; };
    const auto feed = [](double value_m_per_s) { return units::wire_feed_text(value_m_per_s); };
    if (card.volts_v < source.volts_low_v - hair || card.volts_v > source.volts_high_v + hair)
        problem(
            {worded("the power source cannot be set to {0}"), {volts(card.volts_v)}},
            {worded("it gives {0} to {1}"), {units::number_text(source.volts_low_v, 1), volts(source.volts_high_v)}});
    if (card.wire_feed_m_per_s < source.feed_low_m_per_s - hair ||
        card.wire_feed_m_per_s > source.feed_high_m_per_s + hair)
        problem({worded("the feeder cannot be set to {0}"), {feed(card.wire_feed_m_per_s)}},
                {worded("it gives {0} to {1}"), {feed(source.feed_low_m_per_s), feed(source.feed_high_m_per_s)}});
    const auto inside = [](const DeadRange& dead, double value) {
        return std::isfinite(dead.low) && std::isfinite(dead.high) && dead.holds(value);
    };
    for (const DeadRange& dead : source.volts_dead)
        if (inside(dead, card.volts_v))
            problem({worded("the volts dial is broken at {0}"), {volts(card.volts_v)}},
                    {worded("it works up to {0} and from {1} on"), {volts(dead.low), volts(dead.high)}});
    for (const DeadRange& dead : source.feed_dead)
        if (inside(dead, card.wire_feed_m_per_s))
            problem({worded("the wire feed dial is broken at {0}"), {feed(card.wire_feed_m_per_s)}},
                    {worded("it works up to {0} and from {1} on"), {feed(dead.low), feed(dead.high)}});
    return problems;
}

} // namespace holdtrue::arc
