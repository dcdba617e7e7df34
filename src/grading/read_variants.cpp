#include "grading/read_variants.h"

#include "grading/read_must_pass.h"
#include "part/gauge_limit.h"
#include "part/part_tables.h"
#include "text/names.h"

#include <algorithm>

namespace holdtrue::grading {
namespace {

using text::Table;
using text::worded;
using units::mm;

std::vector<std::string> ids_of(const auto& list) {
    std::vector<std::string> ids;
    for (const auto& entry : list)
        ids.push_back(entry.id);
    return ids;
}

std::vector<std::string> read_ids(Table& table, std::string_view key, text::Wording what,
                                  const std::vector<std::string>& known) {
    std::vector<std::string> ids;
    if (!table.has(key)) {
        table.know({key});
        return ids;
    }
    ids = table.one_or_more(key);
    for (const std::string& id : ids)
        text::find_named(table, key, id, what, known);
    if (ids.size() >= known.size())
        table.problem(key, worded("nothing of its kind would be left in the shop"),
                      worded("leave the trainee at least one"));
    return ids;
}

arc::DialFault read_fault(Table& table, std::string_view key, const std::optional<arc::Dial>& dial) {
    std::optional<Table> fault = table.table(key);
    if (!fault)
        return {};
    const arc::DialFault read = arc::read_dial_fault(*fault, dial);
    if (read.dead.empty() && !fault->has("stuck") && !fault->has("works") && !fault->has("dead"))
        fault->problem("", worded("the fault of the dial is not said"),
                       worded("give stuck = MARK, works = [LOW, HIGH] or dead = [LOW, HIGH]"));
    return read;
}

VariantChoice read_choice(Table& table, const part::Part& part, const arc::Shop& shop, const arc::RuleBook& rules) {
    VariantChoice choice;
    choice.title = table.text("title");
    if (table.has("brief"))
        choice.brief = table.one_or_more("brief");
    else
        table.know({"brief"});
    for (Table& sheet : table.tables("sheet")) {
        const std::string name = sheet.text("panel");
        if (sheet.has("panel"))
            text::find_named(sheet, "panel", name, worded("panel"), part::names_of(part.panels));
        choice.sheets.push_back({name, sheet.quantity("thickness", units::length, {0.5 * mm, 40 * mm})});
    }
    choice.without_wires = read_ids(table, "without_wire", worded("wire"), ids_of(shop.wires));
    choice.without_gases = read_ids(table, "without_gas", worded("gas"), ids_of(shop.gases));
    const arc::PowerSource source = shop.sources.empty() ? arc::PowerSource{} : shop.sources.front();
    choice.volts_fault = read_fault(table, "volts_dial", source.volts_dial);
    choice.feed_fault = read_fault(table, "feed_dial", source.feed_dial);
    for (Table& limit : table.tables("limit")) {
        const std::string name = limit.text("gauge");
        const int gauge = part::find_gauge(part, name);
        if (gauge < 0) {
            if (limit.has("gauge"))
                text::find_named(limit, "gauge", name, worded("gauge"), part::names_of(part.gauges));
            limit.know({"tolerance_mm", "tolerance_in", "tolerance_deg", "class"});
            continue;
        }
        part::Gauge changed = part.gauges[static_cast<std::size_t>(gauge)];
        part::read_limit(limit, changed);
        choice.limits.emplace_back(static_cast<std::size_t>(gauge), std::move(changed));
    }
    choice.must_pass = read_must_pass(table, part, rules);
    choice.interpass_max_k =
        table.optional_quantity("interpass_max", units::temperature, {units::celsius(40), units::celsius(500)});
    if (table.has("time_factor"))
        choice.time_factor = table.number("time_factor", {0.2, 5});
    else
        table.know({"time_factor"});
    return choice;
}

} // namespace

std::vector<VariantAspect> read_variants(Table& root, const part::Part& part, const arc::Shop& shop,
                                         const arc::RuleBook& rules) {
    std::vector<VariantAspect> aspects;
    for (Table& table : root.tables("variant")) {
        VariantAspect aspect;
        aspect.name = text::read_name(table, worded("aspect"), part::names_of(aspects), "aspect");
        for (Table& choice : table.tables("choice"))
            aspect.choices.push_back(read_choice(choice, part, shop, rules));
        if (aspect.choices.size() < 2)
            table.problem(
                "", {worded("the variant has {0} choices"), {std::to_string(aspect.choices.size())}},
                worded("give it two [[variant.choice]] or more; one may have a title alone and change nothing"));
        aspects.push_back(std::move(aspect));
    }
    double count = aspects.empty() ? 0 : 1;
    for (const VariantAspect& aspect : aspects)
        count *= static_cast<double>(std::max<std::size_t>(1, aspect.choices.size()));
    if (count > most_variants)
        root.problem("variant", {worded("there are {0} combinations of the choices"), {units::number_text(count, 0)}},
                     {worded("{0} are the most, so that each can be checked"), {std::to_string(most_variants)}});
    return aspects;
}

} // namespace holdtrue::grading
