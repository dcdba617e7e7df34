#include "arc/read_shop.h"

#include "arc/dial_fault.h"
#include "arc/process_words.h"
#include "material/shielding_gas.h"
#include "text/names.h"
#include "text/toml_reader.h"

#include <algorithm>

namespace holdtrue::arc {
namespace {

using text::Document;
using text::Table;
using text::worded;
using units::mm;

// Wire that runs out in the 6-second feed check, times ten, is what feeds in a minute.
std::vector<double> read_feeds(Table& table) {
    if (!table.has_quantity("fed_in_6_s", units::length))
        return table.quantities("measured", units::wire_feed, {0.1 / 60, 40.0 / 60});
    std::vector<double> feeds = table.quantities("fed_in_6_s", units::length, {10 * mm, 4});
    for (double& feed : feeds)
        feed /= 6;
    return feeds;
}

std::optional<Dial> read_dial(Table& source, std::string_view key, bool volts, DialFault& fault) {
    std::optional<Table> table = source.table(key);
    if (!table)
        return std::nullopt;
    table->know({"stuck", "works", "dead"});
    Dial dial;
    dial.name = table->text("name", std::string(key));
    const std::vector<double> marks = table->numbers("marks", {-1000, 1000});
    const std::vector<double> values =
        volts ? table->quantities("measured", units::voltage, {5, 60}) : read_feeds(*table);
    if (marks.size() < 2 || marks.size() != values.size()) {
        if (!marks.empty() && !values.empty())
            table->problem("marks",
                           {worded("the dial has {0} marks and {1} measured values"),
                            {std::to_string(marks.size()), std::to_string(values.size())}},
                           worded("measure at two marks or more, and give one value for each"));
        return dial;
    }
    for (std::size_t k = 0; k < marks.size(); ++k)
        dial.points.push_back({marks[k], values[k]});
    if (std::ranges::adjacent_find(marks, std::greater_equal<>()) != marks.end())
        table->problem("marks", worded("the marks of the dial do not rise"),
                       worded("give them from low to high, each once"));
    else if (std::ranges::adjacent_find(values, std::greater_equal<>()) != values.end())
        table->problem("marks", worded("what the dial gives does not rise with its marks"),
                       worded("measure again and correct it"));
    else
        fault = read_dial_fault(*table, dial);
    return dial;
}

PowerSource read_source(Table& table) {
    PowerSource source;
    source.name = table.text("name");
    source.volts_low_v = table.quantity("volts_low", units::voltage, {5, 60});
    source.volts_high_v = table.quantity("volts_high", units::voltage, {5, 60});
    source.feed_low_m_per_s = table.quantity("feed_low", units::wire_feed, {0, 40.0 / 60});
    source.feed_high_m_per_s = table.quantity("feed_high", units::wire_feed, {0.1 / 60, 40.0 / 60});
    source.rated_current_a = table.quantity("rated_current", units::current, {10, 2000});
    source.rated_duty = table.number("rated_duty", {0.05, 1});
    if (source.volts_high_v <= source.volts_low_v)
        table.problem("volts_high", worded("volts_high_v is not above volts_low_v"),
                      worded("give the range the source can be set to"));
    if (source.feed_high_m_per_s <= source.feed_low_m_per_s)
        table.problem("feed_high", worded("feed_high is not above feed_low"),
                      worded("give the range the feeder can be set to"));
    DialFault of_volts, of_feed;
    source.volts_dial = read_dial(table, "volts_dial", true, of_volts);
    source.feed_dial = read_dial(table, "feed_dial", false, of_feed);
    break_volts_dial(source, of_volts);
    break_feed_dial(source, of_feed);
    return source;
}

std::vector<std::string> ids(const auto& list) {
    std::vector<std::string> found;
    for (const auto& entry : list)
        found.push_back(entry.id);
    return found;
}

Wire read_wire(Table& table, const Shop& shop) {
    Wire wire;
    wire.id = text::read_name(table, worded("wire"), ids(shop.wires), "id");
    wire.classification = table.text("classification");
    wire.diameter_m = table.quantity("diameter", units::length, {0.5 * mm, 3.2 * mm});
    const std::string number = table.text("process");
    if (table.has("process"))
        wire.process = process_by_number(number).value_or(Process::mag_135);
    if (table.has("process") && !process_by_number(number))
        table.problem("process", {worded("there is no process \"{0}\""), {number}},
                      {worded("write its ISO 4063 number in quotes: {0}"), {text::one_of(process_numbers())}});
    return wire;
}

Gas read_gas(Table& table, const Shop& shop) {
    Gas gas;
    gas.id = text::read_name(table, worded("gas"), ids(shop.gases), "id");
    const std::string mix = table.text("mix");
    if (!table.has("mix"))
        return gas;
    try {
        const material::GasMixture shares = material::parse_gas(mix);
        gas.argon = shares.argon;
        gas.helium = shares.helium;
        gas.co2 = shares.co2;
        gas.oxygen = shares.oxygen;
        gas.hydrogen = shares.hydrogen;
    } catch (const text::InputError& error) {
        for (const text::Problem& problem : error.problems())
            table.problem("mix", problem.what, problem.fix);
    }
    return gas;
}

std::shared_ptr<const Shop> read(Document document) {
    auto shop = std::make_shared<Shop>();
    shop->file = document.file();
    Table root = document.root();
    shop->name = root.text("name");
    shop->title = root.text("title", shop->name);
    shop->draught_m_per_s = root.quantity("draught", units::speed, {0, 30}, 0.0);
    shop->change_dials_s = root.quantity("change_dials", units::time, {0, 3600}, shop->change_dials_s);
    shop->change_wire_s = root.quantity("change_wire", units::time, {0, 3600}, shop->change_wire_s);
    shop->change_gas_s = root.quantity("change_gas", units::time, {0, 3600}, shop->change_gas_s);
    shop->cost_per_hour = root.number("cost_per_hour", {0, 1e6}, 0.0);
    shop->gas_cost_per_m3 = root.number("gas_cost_per_m3", {0, 1e6}, 0.0);
    shop->wire_cost_per_kg = root.number("wire_cost_per_kg", {0, 1e6}, 0.0);
    shop->currency = root.text("currency", "");

    for (Table table : root.tables("power_source"))
        shop->sources.push_back(read_source(table));
    for (Table table : root.tables("wire"))
        shop->wires.push_back(read_wire(table, *shop));
    for (Table table : root.tables("gas"))
        shop->gases.push_back(read_gas(table, *shop));
    if (shop->sources.empty() && !root.has("power_source"))
        root.problem("", worded("the shop has no power source"),
                     worded("add [[power_source]] with its ranges and rating"));
    if (shop->wires.empty() && !root.has("wire"))
        root.problem("", worded("the shop has no wire"),
                     worded("add [[wire]] with id, classification, diameter_mm and process"));
    document.finish();
    return shop;
}

} // namespace

std::shared_ptr<const Shop> read_shop(const std::filesystem::path& path) { return read(Document::read(path)); }

std::shared_ptr<const Shop> parse_shop(std::string_view toml, const std::string& file_name) {
    return read(Document::parse(toml, file_name));
}

} // namespace holdtrue::arc
