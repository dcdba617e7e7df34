#include "report/sheet_parts.h"

#include "arc/arc.h"
#include "arc/power_source.h"
#include "arc/process_words.h"
#include "material/gas_words.h"

namespace holdtrue::report {
namespace {

// "19.0 V (mark 5.0 of 'lower dial')", or the value alone where the dial was not measured there.
std::string with_mark(const std::string& text, const std::optional<arc::Dial>& dial, double value) {
    if (!dial)
        return text;
    const std::optional<double> mark = arc::mark_if_measured(*dial, value);
    return mark ? text + ", mark " + units::number_text(*mark, 1) + " on '" + dial->name + "'"
                : text + ", not measured on '" + dial->name + "'";
}

std::string listed(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words)
        all += (all.empty() ? "" : ", ") + word;
    return all;
}

} // namespace

void add_setting_cards(PageFlow& page, const weld::Outcome& outcome, units::System system) {
    const arc::Shop& shop = *outcome.shop;
    const arc::PowerSource& source = shop.sources.front();
    std::vector<std::vector<Cell>> rows;
    for (const arc::SettingCard& card : outcome.plan.cards) {
        std::string wire = card.wire;
        for (const arc::Wire& one : shop.wires)
            if (one.id == card.wire)
                wire = one.classification + ", " + units::length_text(one.diameter_m, system);
        const std::string gas = card.gas.empty() ? "no gas"
                                                 : material::with_group(arc::find_gas(shop, card)) + ", " +
                                                       units::flow_text(card.gas_flow_m3_per_s, system);
        std::string torch = std::string(card.motion == arc::TorchMotion::push ? "push" : "drag") + ", tip " +
                            units::length_text(card.tip_distance_m, system) + " off";
        if (card.preheat_k > 0)
            torch += ", preheat " + units::temperature_text(card.preheat_k, system);
        rows.push_back({{card.name, ink::text, true},
                        {listed(card.groups)},
                        {wire + "; " + gas},
                        {with_mark(units::number_text(card.volts_v, 1) + " V", source.volts_dial, card.volts_v)},
                        {with_mark(units::wire_feed_text(card.wire_feed_m_per_s, system), source.feed_dial,
                                   card.wire_feed_m_per_s)},
                        {units::travel_text(card.travel_m_per_s, system)},
                        {torch}});
    }
    page.table({{"card", 0.9},
                {"for", 1.1},
                {"wire and gas", 1.8},
                {"volts", 1.5},
                {"wire feed", 1.7},
                {"travel", 1},
                {"torch", 1.2}},
               rows, 8);
    page.paragraph("Power source: " + source.name +
                       ". Set by the values; a dial mark holds for this source only, as "
                       "measured at this shop.",
                   {8.5}, ink::faint);
}

void add_cautions(PageFlow& page, const grading::Exercise& exercise) {
    page.heading("Cautions");
    for (const std::string& caution : exercise.cautions)
        page.bullet(caution);
    page.bullet("Eyes, skin and lungs first: helmet of the right shade, dry leather, extraction at the arc, no one "
                "unscreened nearby; keep a fire watch after the last arc.");
    page.bullet("This is practice on a simulated part. Real work follows the welding procedure, the local codes and "
                "the licensed people responsible for it.");
}

} // namespace holdtrue::report
